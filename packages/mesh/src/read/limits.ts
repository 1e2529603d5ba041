import { InputError } from '../error.ts';

/**
 * The largest coordinate that is taken as a place: the largest 32-bit float (IEEE 754). Larger ones could not be
 * written as STL and would overflow volumes and moments; they are treated like infinities.
 */
export const largestCoordinate = 3.4028234663852886e38;

/** True for a number that can be a coordinate. */
export function isPlace(value: number): boolean {
  return value <= largestCoordinate && value >= -largestCoordinate;
}

/**
 * Objects with faces that one file may hold. Common practice, no source: far above any plate of parts, low enough to
 * measure, since each object is measured and listed by itself.
 */
export const mostObjects = 4096;

/** @throws {InputError} `too-many-objects` when `count` is beyond the limit. */
export function checkObjectCount(count: number): void {
  if (count <= mostObjects) return;
  throw new InputError(
    'too-many-objects',
    `the file holds more than ${mostObjects} objects`,
    `Join what belongs to one part into one object, or split the file into several of at most ${mostObjects} objects.`,
  );
}
