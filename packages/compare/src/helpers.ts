import { buildTree, type Mesh, type TriangleTree } from '@kinprint/mesh';
import {
  sideRange,
  sideVertices,
  type RangeTask,
  type SideRange,
  type SideTask,
  type SideVertices,
} from './deviation/deviation-side.ts';

/**
 * Puts a piece of work on offer to other threads. The function that comes back gives the result; when nobody has begun
 * by the time it is called, the work is done in this thread.
 */
export type Offer<Input, Result> = (input: Input) => () => Promise<Result>;

/** The parts of a comparison that other threads can do. Input and result are plain data. */
export interface Helpers {
  readonly tree: Offer<Mesh, TriangleTree>;
  readonly sideVertices: Offer<SideTask, SideVertices>;
  readonly sideRange: Offer<RangeTask, SideRange>;
}

/** No other threads. */
export const alone: Helpers = {
  tree: here(buildTree),
  sideVertices: here(sideVertices),
  sideRange: here(sideRange),
};

/** Nobody else does it. */
export function here<Input, Result>(work: (input: Input) => Result): Offer<Input, Result> {
  return input => () => Promise.resolve(work(input));
}

/** Two pieces of work of one kind: others begin with the first, this thread with the second. */
export async function both<Input, Result>(
  offer: Offer<Input, Result>,
  [first, second]: readonly [Input, Input],
): Promise<readonly [Result, Result]> {
  const offers = [offer(first), offer(second)] as const;
  const [late, early] = await Promise.all([offers[1](), offers[0]()]);
  return [early, late];
}
