/**
 * How much area lies at which distance. Bins in a fixed ratio of distance, about 0.14 % wide, so that distributions
 * from several ranges add up number by number; two numbers per bin: area, and area × distance. The first bin holds
 * exact zeros and everything below 2⁻⁶⁰ mm.
 */
export type Distribution = Float64Array;

const perOctave = 512;
const octaves = 96;
const leastExponent = -60;
const value = new Float32Array(1);
const bits = new Int32Array(value.buffer);
/** The bits of a 32-bit float grow with its value; 512 bins per octave leave off 14 of the 23 bits of the fraction. */
const dropped = 14;
const origin = (leastExponent + 127) * perOctave;

export function emptyDistribution(): Distribution {
  return new Float64Array(2 * (1 + octaves * perOctave));
}

/** Adds `area` at `distance`. */
export function deposit(distribution: Distribution, distance: number, area: number): void {
  value[0] = distance;
  const bin = Math.min(Math.max((bits[0] >> dropped) - origin + 1, 0), octaves * perOctave);
  distribution[2 * bin] += area;
  distribution[2 * bin + 1] += area * distance;
}

/**
 * The distance below which `share` of the area lies: the mean of the bin that the share falls into. 0 for an empty
 * distribution.
 */
export function quantile(distribution: Distribution, share: number): number {
  let total = 0;
  for (let at = 0; at < distribution.length; at += 2) total += distribution[at];
  let below = 0;
  for (let at = 0; at < distribution.length; at += 2) {
    const area = distribution[at];
    below += area;
    if (area > 0 && below >= share * total) return distribution[at + 1] / area;
  }
  return 0;
}
