import type { Comparison, TreeComparison } from '@kinprint/compare';
import type { FileFigures } from '../figures.ts';

/** Versions of the output schemas; the `$id`s of the files in `schemas/output/`. */
export const outputSchemas = {
  measure: 'kinprint:output/measure/1',
  compare: 'kinprint:output/compare/1',
  lineage: 'kinprint:output/lineage/1',
} as const;

/** One file's entry in `kinprint measure --json`. */
export function measureJson(file: string, m: FileFigures): object {
  return { schema: outputSchemas.measure, file, ...m.whole, objects: m.objects };
}

/** `kinprint compare --json` for two meshes. */
export function compareJson(before: string, after: string, c: Comparison): object {
  return { schema: outputSchemas.compare, files: { before, after }, ...c };
}

/** `kinprint compare --json` for two directories or git states. */
export function treeJson(before: string, after: string, tree: TreeComparison): object {
  return { schema: outputSchemas.compare, trees: { before, after }, ...tree };
}
