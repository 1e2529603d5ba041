import type { Note } from '@kinprint/mesh';
import { closePairs, defaults as solidDefaults, type Interference } from '@kinprint/solid';
import type { Cache } from '../cache/cache.ts';
import type { PartLook } from '../check/facts.ts';
import type { CloserLook } from '../check/closer-look.ts';
import { measureParts, wantedMesh, type MeshWanted } from '../check/measure-parts.ts';
import { nearPlanes } from '../check/near-planes.ts';
import type { Content } from '../check/likeness.ts';
import { assemblyDefaults } from './defaults.ts';
import { hardwareRows } from './hardware-rows.ts';
import { instancesOf, type Instance } from './instances.ts';
import { isIntended } from './intended.ts';
import { judgeMates, type JudgedMate } from './judge-mates.ts';
import type { InterferenceSearch, PlacedMesh } from './interference-search.ts';
import type { AssemblyReport, PlacedInterference } from './types.ts';

export interface AssemblyMeans {
  readonly cache: Cache;
  readonly search: InterferenceSearch;
  /** What was measured of the parts, by their index; measured (or taken from the cache) where left out. */
  readonly looks?: readonly (PartLook | null | undefined)[];
  /** Looks for small faces; by default with threads of its own, which are ended. */
  readonly closer?: CloserLook;
  /** The worker's file, for measuring. */
  readonly worker?: URL | null;
}

/**
 * Puts a variant's parts together: what is placed, what claims the same space, how the declared mates stand.
 *
 * @param content of the working state or of a letter
 * @throws Error for a fault of ours; what cannot be read of the parts is said in the report
 */
export async function assemblyOf(content: Content, means: AssemblyMeans): Promise<AssemblyReport> {
  const { manifest } = content;
  const meshes = manifest.parts.map(part =>
    wantedMesh({ folder: content.folder, files: content.refs }, part),
  );
  const looks = means.looks ?? (await measured(content, meshes, means));
  const { placed, unplaced } = instancesOf(manifest, looks);
  const planes = await nearPlanes(content.files, manifest, meshes, looks, means);
  const { mates, tooMany } = judgeMates(manifest, looks, placed, planes);
  const hardware = hardwareRows(mates, part => placed.filter(({ index }) => index === part).length);
  const notes: Note[] = tooMany || hardware.tooMany ? [manyLines] : [];
  const interferences = await interferencesOf(content, placed, meshes, mates, means, notes);
  return {
    placed: placed.map(({ index: _, ...instance }) => instance),
    unplaced,
    interferences,
    mates: mates.map(({ mate }) => mate),
    hardware: hardware.rows,
    notes,
  };
}

async function measured(
  { files }: Content,
  meshes: readonly (MeshWanted | null)[],
  { cache, worker }: AssemblyMeans,
): Promise<(PartLook | null)[]> {
  const known = [...meshes.entries()].flatMap(([k, mesh]) => (mesh === null ? [] : [[k, mesh] as const]));
  const found = await measureParts(
    files,
    known.map(([, mesh]) => mesh),
    { cache, ...(worker === undefined ? {} : { worker }) },
  );
  const looks: (PartLook | null)[] = meshes.map(() => null);
  known.forEach(([k], n) => (looks[k] = found[n]));
  return looks;
}

async function interferencesOf(
  { files }: Content,
  placed: readonly Instance[],
  meshes: readonly (MeshWanted | null)[],
  mates: readonly JudgedMate[],
  { search }: AssemblyMeans,
  notes: Note[],
): Promise<PlacedInterference[] | null> {
  // Boxes alone often tell that nothing can interfere; then no mesh is read.
  const pairs = closePairs(
    placed.map(({ bounds_mm }) => bounds_mm),
    solidDefaults.contactDepth_mm,
  );
  if (pairs.length > assemblyDefaults.maxPairs) {
    notes.push(manyPairs(pairs.length));
    return null;
  }
  const involved = [...new Set(pairs.flat())].sort((a, b) => a - b);
  const standing = involved.flatMap((k): PlacedMesh[] => {
    const mesh = meshes[placed[k].index];
    return mesh === null ? [] : [{ mesh, motion: placed[k].motion }];
  });
  if (standing.length === 0) return [];
  const found = await search.find(files, standing, pairs.length);
  if (found === null) {
    notes.push(notFinished);
    return null;
  }
  for (const part of new Set(found.unusable.map(k => placed[involved[k]].part)))
    notes.push({
      ...notASolid,
      text: `The mesh of '${part}' encloses no volume; what it interferes with cannot be told.`,
    });
  return found.found.map(({ a, b, ...rest }: Interference): PlacedInterference => {
    const [one, two] = [placed[involved[a]], placed[involved[b]]];
    return { a: one.name, b: two.name, ...rest, intended: isIntended(one, two, rest.regions, mates) };
  });
}

const notASolid = { code: 'assembly-not-a-solid', text: '', about: 'interferences' } as const;

const notFinished: Note = {
  code: 'assembly-not-finished',
  text: 'Finding interferences took too long or too much memory; the surfaces may cross themselves very often.',
  about: 'interferences',
};

const manyLines: Note = {
  code: 'assembly-too-many',
  text: 'A mating pair has so many copies that their axes were not compared.',
  about: 'mates',
};

function manyPairs(count: number): Note {
  return {
    code: 'assembly-too-many',
    text: `${count} pairs of placed parts share space with their boxes; interferences are looked for in ${assemblyDefaults.maxPairs} at most.`,
    about: 'interferences',
  };
}
