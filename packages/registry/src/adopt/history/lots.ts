import type { PartComparison } from '@kinprint/compare';
import type { Unit } from '@kinprint/mesh';
import type { Snapshot, SnapshotEntry } from '../../snapshot/types.ts';
import { compareTrees } from '../../work/compare-trees.ts';
import { withoutWords } from '../../record/shape-words.ts';
import type { WorkPool } from '../../work/pool.ts';
import type { SourceFile, SourceState } from '../source/types.ts';

/**
 * The meshes of two states, paired and compared; files that state their own unit apart from those that do not, as
 * one comparison reads both sides in one unit.
 */
export async function compareStates(
  before: SourceState,
  after: SourceState,
  unitOf: (entry: SnapshotEntry) => Unit | null,
  pool: WorkPool,
): Promise<PartComparison[]> {
  const [old, now] = [readableMeshes(before), readableMeshes(after)];
  const units = new Set([...old, ...now].map(unitOf));
  const parts: PartComparison[] = [];
  for (const unit of units) {
    const lot = (files: readonly SourceFile[]): Snapshot => ({
      name: '',
      kind: 'tree',
      entries: files.filter(file => unitOf(file) === unit),
      notes: [],
      close: () => Promise.resolve(),
    });
    const tree = await compareTrees(
      lot(old),
      lot(now),
      unit === null ? withoutWords : { ...withoutWords, unit },
      { pool },
    );
    parts.push(...tree.parts);
  }
  return parts;
}

/** Files with content that may be meshes. */
export function readableMeshes(state: SourceState): SourceFile[] {
  return state.files.filter(file => file.kind === 'mesh' && file.problem === null);
}
