import type { Measuring } from '@kinprint/compare';
import { halves, joinHalves, type Measurement, type MeasureTask } from '@kinprint/mesh';
import type { Crew } from './crew.ts';

/** A measurement on offer to other threads, in halves where it has two, the one with the volume first. */
export function offerMeasuring(crew: Crew, task: MeasureTask): Omit<Measuring, 'mesh'> {
  const split = halves(task.options) ?? { rest: task.options, walls: null };
  const rest = crew.offer('measure', { ...task, options: split.rest });
  const volume = async (): Promise<number | null> => (await rest()).volume_mm3;
  if (split.walls === null) return { volume, measurement: rest };
  const walls = crew.offer('measure', { ...task, options: split.walls });
  let asked: Promise<Measurement> | null = null;
  const joined = (): Promise<Measurement> => allOf([rest, walls]).then(([a, b]) => joinHalves(a, b));
  return { volume, measurement: () => (asked ??= joined()) };
}

/** All results. Others begin with the first that is on offer, so this thread begins with the last. */
export async function allOf<T>(asks: readonly (() => Promise<T>)[]): Promise<T[]> {
  const results = await Promise.all(asks.toReversed().map(ask => ask()));
  return results.reverse();
}
