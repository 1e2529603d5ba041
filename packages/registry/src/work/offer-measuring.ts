import { halves, joinHalves, type Measurement, type MeasureTask } from '@kinprint/mesh';
import type { Crew } from './crew.ts';

/** A measurement on offer to other threads, in halves where it has two. */
export function offerMeasuring(crew: Crew, task: MeasureTask): () => Promise<Measurement> {
  const split = halves(task.options);
  if (split === null) return crew.offer('measure', task);
  const asks = [
    crew.offer('measure', { ...task, options: split.walls }),
    crew.offer('measure', { ...task, options: split.rest }),
  ];
  let asked: Promise<Measurement> | null = null;
  return () => (asked ??= allOf(asks).then(([walls, rest]) => joinHalves(rest, walls)));
}

/** All results. Others begin with the first that is on offer, so this thread begins with the last. */
export async function allOf<T>(asks: readonly (() => Promise<T>)[]): Promise<T[]> {
  const results = await Promise.all(asks.toReversed().map(ask => ask()));
  return results.reverse();
}
