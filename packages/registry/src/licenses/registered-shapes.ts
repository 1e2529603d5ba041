import type { Cache } from '../cache/cache.ts';
import { byContent, type Candidate } from '../kin/find-kin.ts';
import { contentKey, printMeshes } from '../kin/print-parts.ts';
import { presentParts, recordedParts, type KinPlace } from '../kin/registered-parts.ts';
import { indexContents, type ContentIndex } from '../kin/related-contents.ts';
import type { MeshPrints } from '../kin/mesh-prints.ts';
import type { StateHistory } from '../history/content-at.ts';
import type { OpenedSource } from '../sources/open-sources.ts';
import type { RegistryState } from '../state/types.ts';

export type RegisteredPart = Candidate<KinPlace>;

/** All parts that a registry and its sources hold and held, equal contents together, with their fingerprints. */
export interface RegisteredShapes {
  /** What the registry's own variants hold now. */
  readonly present: readonly RegisteredPart[];
  readonly all: readonly RegisteredPart[];
  /** Parts of equal content. */
  readonly groups: readonly (readonly RegisteredPart[])[];
  /** Of each group; null for a mesh that cannot be read. */
  readonly prints: readonly (MeshPrints | null)[];
  readonly index: ContentIndex;
  /** For each group its rows in the index, the whole first. */
  readonly rows: readonly (readonly number[])[];
  /** The group that a part is in; undefined for one without content. */
  groupOf(part: RegisteredPart): number | undefined;
}

export async function registeredShapes(
  state: RegistryState,
  history: StateHistory,
  sources: ReadonlyMap<string, OpenedSource>,
  cache: Cache,
  progress?: (done: number, total: number) => void,
): Promise<RegisteredShapes> {
  const present = await presentParts(state, null);
  const all = [...present, ...(await recordedParts(state, history, null)).parts];
  for (const [name, source] of sources) {
    all.push(...(await presentParts(source.state, name)));
    all.push(...(await recordedParts(source.state, source.history, name)).parts);
  }
  const groups = byContent(all);
  const numbers = new Map(groups.map((group, k) => [contentKey(group[0]), k]));
  const firsts = groups.map(group => group[0]);
  const prints = await printMeshes(firsts, cache, progress);
  const index = indexContents(firsts, prints);
  const rows = groups.map((): number[] => []);
  index.rows.forEach(({ content }, row) => rows[content].push(row));
  return {
    present,
    all,
    groups,
    prints,
    index,
    rows,
    groupOf: part => numbers.get(contentKey(part)),
  };
}
