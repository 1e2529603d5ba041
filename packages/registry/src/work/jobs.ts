import { sideRange, sideVertices, type Helpers } from '@kinprint/compare';
import { buildTree, measureTask, type Measurement, type MeasureTask } from '@kinprint/mesh';
import { shared } from './shared.ts';

type Parts = { readonly [K in keyof Helpers]: JobOf<Helpers[K]> };
type JobOf<Offered> = Offered extends (input: infer Input) => () => Promise<infer Result>
  ? { readonly input: Input; readonly result: Result }
  : never;

/** Pieces of work within one file or one pair: plain data in, plain data out. */
export interface Jobs extends Parts {
  readonly measure: { readonly input: MeasureTask; readonly result: Measurement };
}
export type JobKind = keyof Jobs;

const works: { readonly [K in JobKind]: (input: Jobs[K]['input']) => Jobs[K]['result'] } = {
  measure: measureTask,
  // Trees go on to other jobs.
  tree: mesh => shared(buildTree(mesh)),
  sideVertices,
  sideRange,
};

export function runJob<K extends JobKind>(kind: K, input: Jobs[K]['input']): Jobs[K]['result'] {
  return works[kind](input);
}
