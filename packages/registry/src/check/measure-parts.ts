import type { Part } from '@kinprint/manifest';
import { InputError, millimetersPer, type Unit } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import { entryOf } from '../state/entries.ts';
import { hashAndClose } from '../snapshot/read-and-close.ts';
import type { FileRef, RegistryFiles } from '../state/registry-files.ts';
import type { VariantState } from '../state/types.ts';
import { entryInput } from '../work/entry-input.ts';
import { openPool, type WorkPool } from '../work/pool.ts';
import type { FileReport, TaskOutcome } from '../work/task.ts';
import { factsOf, isKeptLook, type PartLook } from './facts.ts';

const kind = 'measured-part';
/** Rises with any change of what is measured or how. */
const version = 1;

/** A mesh to measure, read in a unit or in its own. */
export interface MeshWanted {
  readonly ref: FileRef;
  readonly unit: Unit | null;
}

/** Meshes of one state that are to be measured. */
export interface MeasurePlan {
  /** How many contents the cache does not know. */
  readonly tasks: number;
  /** Size of those. */
  readonly bytes: number;
  /** Looks at the mesh wanted at an index, at most once for each content; `pool` is asked where the cache knows nothing. */
  look(index: number, pool: WorkPool): Promise<PartLook>;
}

export interface MeasurePlanOptions {
  readonly cache: Cache;
  /** Told how many of the meshes that had to be measured are done. */
  readonly progress?: (done: number, total: number) => void;
}

/**
 * Finds out which meshes of a registry's state must be measured. What was measured before is taken from the cache by
 * content and unit; a content that occurs several times is measured once.
 */
export async function planMeasuring(
  files: RegistryFiles,
  wanted: readonly MeshWanted[],
  { cache, progress = () => undefined }: MeasurePlanOptions,
): Promise<MeasurePlan> {
  const keys: (string | null)[] = [];
  for (const { ref, unit } of wanted) keys.push(ref.problem === null ? await keyOf(files, ref, unit) : null);

  const looks = new Map<string, Promise<PartLook>>();
  const missing = new Map<string, MeshWanted>();
  keys.forEach((key, k) => {
    if (key === null || looks.has(key) || missing.has(key)) return;
    const known = key.startsWith(unreadableKey) ? undefined : cache.get(kind, version, key);
    if (isKeptLook(known)) looks.set(key, Promise.resolve(known));
    else missing.set(key, wanted[k]);
  });
  let done = 0;

  async function measure(key: string, { ref, unit }: MeshWanted, pool: WorkPool): Promise<PartLook> {
    const outcome = await pool.run<'measure'>(async () => ({
      kind: 'measure',
      file: await entryInput(await entryOf(files, ref), null, pool.threads),
      options: unit === null ? {} : { unit },
    }));
    const look = lookOf(outcome);
    if (lasts(look) && (await isStill(files, ref, key))) cache.put(kind, version, key, look);
    progress(++done, missing.size);
    return look;
  }

  return {
    tasks: missing.size,
    bytes: [...missing.values()].reduce((sum, { ref }) => sum + (ref.size ?? 0), 0),
    async look(index, pool) {
      const { ref } = wanted[index];
      const key = keys[index];
      if (ref.problem !== null) return { state: 'absent', problem: ref.problem };
      if (key === null) throw new Error(`${ref.path} has no key.`);
      const known = looks.get(key) ?? measure(key, wanted[index], pool);
      looks.set(key, known);
      return known;
    },
  };
}

/**
 * Measures meshes of a registry's state on all cores.
 *
 * @returns one look for each wanted mesh, in their order
 */
export async function measureParts(
  files: RegistryFiles,
  wanted: readonly MeshWanted[],
  { worker, ...options }: MeasurePlanOptions & { readonly worker?: URL | null },
): Promise<PartLook[]> {
  const plan = await planMeasuring(files, wanted, options);
  const pool = openPool({ ...plan, ...(worker === undefined ? {} : { worker }) });
  try {
    return await Promise.all(wanted.map((_, k) => plan.look(k, pool)));
  } finally {
    await pool.close();
    options.cache.flush();
  }
}

/**
 * Whether a look says something of the content itself. A fault of ours may be gone with the next version, and a file
 * that could not be opened or fetched may be there the next time.
 */
function lasts(look: PartLook): boolean {
  if (look.state !== 'unreadable') return look.state === 'measured';
  return !/^(file|lfs|object)-|^(missing|too-large|unreadable|not-regular)$/.test(look.error.code);
}

/**
 * Whether a file has the content that its key names, after it was measured: what is measured of a file that was changed
 * meanwhile must not be remembered under its earlier hash. Commits do not change.
 */
export async function isStill(files: RegistryFiles, ref: FileRef, key: string): Promise<boolean> {
  if (files.kind === 'commit') return true;
  try {
    return key.startsWith(hashAndClose(await files.open(ref)));
  } catch (error) {
    if (error instanceof InputError) return false;
    throw error;
  }
}

/** Keys of files that cannot even be hashed; measuring them says why. */
const unreadableKey = 'unreadable ';

/** What is remembered of a mesh depends on this. */
export async function keyOf(files: RegistryFiles, ref: FileRef, unit: Unit | null): Promise<string> {
  try {
    return `${await files.sha256(ref)}:${unit ?? ''}`;
  } catch {
    return unreadableKey + ref.path;
  }
}

function lookOf(outcome: TaskOutcome<FileReport>): PartLook {
  switch (outcome.state) {
    case 'done':
      return { state: 'measured', facts: factsOf(outcome.result.whole) };
    case 'input-error':
      return { state: 'unreadable', error: outcome.error };
    case 'fault':
      return { state: 'failed', text: outcome.text };
  }
}

/** A unit that a manifest names, as the readers take it. */
export function unitOf(name: string | undefined): Unit | null {
  return name !== undefined && name in millimetersPer ? (name as Unit) : null;
}

/** The mesh of a part, to be read in the unit that its manifest states; null where there is no such file. */
export function wantedMesh(
  { folder, files }: Pick<VariantState, 'folder' | 'files'>,
  part: Part,
): MeshWanted | null {
  const path = `${folder}/${part.mesh}`;
  const ref = files.find(file => file.path === path);
  return ref === undefined ? null : { ref, unit: unitOf(part.unit) };
}
