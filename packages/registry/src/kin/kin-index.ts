import { fingerprintValues, surfaceValues, type Fingerprint } from '@kinprint/mesh';

/** Fingerprints of many meshes, in flat arrays. */
export interface KinIndex {
  readonly count: number;
  /** `fingerprintValues` for each. */
  readonly values: Float32Array;
  /** 1 where there are numbers of a solid. */
  readonly solid: Uint8Array;
}

export interface Neighbor {
  /** Its place in the index. */
  readonly entry: number;
  /** 0 for the same shape, some tenths for unlike ones. */
  readonly distance: number;
}

export function kinIndex(prints: readonly Fingerprint[]): KinIndex {
  const values = new Float32Array(prints.length * fingerprintValues);
  const solid = new Uint8Array(prints.length);
  prints.forEach((print, k) => {
    values.set(print.values, k * fingerprintValues);
    solid[k] = print.solid ? 1 : 0;
  });
  return { count: prints.length, values, solid };
}

/**
 * The nearest entries, nearest first; equal ones in their order. Every entry is looked at: at 100 000 that takes some
 * ten milliseconds, less than reading the index, so no tree is kept.
 *
 * @param farthest entries beyond are left out
 * @param accepts asked of entries near enough; all count where left out
 */
export function nearestPrints(
  { count, values, solid }: KinIndex,
  print: Fingerprint,
  limit: number,
  farthest = Infinity,
  accepts?: (entry: number) => boolean,
): Neighbor[] {
  const found: Neighbor[] = [];
  const own = print.values;
  let boundSq = farthest * farthest;
  if (limit < 1) return found;
  for (let entry = 0; entry < count; entry++) {
    const from = entry * fingerprintValues;
    let sum = 0;
    for (let k = 0; k < surfaceValues; k++) {
      const gap = own[k] - values[from + k];
      sum += gap * gap;
    }
    if (sum > boundSq) continue;
    if (print.solid && solid[entry] === 1)
      for (let k = surfaceValues; k < fingerprintValues; k++) {
        const gap = own[k] - values[from + k];
        sum += gap * gap;
      }
    if (!(sum <= boundSq) || (found.length === limit && sum === boundSq)) continue;
    if (accepts?.(entry) === false) continue;
    let at = found.length;
    const distance = Math.sqrt(sum);
    while (at > 0 && found[at - 1].distance > distance) at--;
    found.splice(at, 0, { entry, distance });
    if (found.length > limit) found.pop();
    if (found.length === limit) boundSq = Math.min(boundSq, found[limit - 1].distance ** 2 * (1 + 1e-12));
  }
  return found;
}

/** How far two entries are apart, as `nearestPrints` tells it. */
export function entryDistance({ values, solid }: KinIndex, a: number, b: number): number {
  const length = solid[a] === 1 && solid[b] === 1 ? fingerprintValues : surfaceValues;
  let sum = 0;
  for (let k = 0; k < length; k++) {
    const gap = values[a * fingerprintValues + k] - values[b * fingerprintValues + k];
    sum += gap * gap;
  }
  return Math.sqrt(sum);
}
