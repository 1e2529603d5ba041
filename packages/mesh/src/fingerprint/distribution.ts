/** A distribution of numbers from 0 up: weights at evenly spaced places, the last of which also takes what lies beyond. */
export interface Distribution {
  readonly weights: Float64Array;
  readonly perUnit: number;
}

export function distribution(end: number, perUnit: number): Distribution {
  return { weights: new Float64Array(Math.round(end * perUnit) + 1), perUnit };
}

/** Adds a weight, shared between the two places beside the value, so that the mean is kept. */
export function addTo({ weights, perUnit }: Distribution, value: number, weight: number): void {
  const at = value * perUnit;
  const last = weights.length - 1;
  if (!(at < last)) {
    weights[last] += weight;
    return;
  }
  const low = Math.floor(at);
  const share = at - low;
  weights[low] += weight * (1 - share);
  weights[low + 1] += weight * share;
}

/**
 * The means of the lowest n-th of the weight, the next, … Unlike quantiles they follow a small change of the weights
 * by a small change, also where many values are equal (planes).
 */
export function stepMeans({ weights, perUnit }: Distribution, steps: number): number[] {
  const total = weights.reduce((sum, w) => sum + w, 0);
  const means: number[] = [];
  const step = total / steps;
  let left = step;
  let sum = 0;
  for (let k = 0; k < weights.length && means.length < steps; k++) {
    let here = weights[k];
    while (here >= left && means.length < steps - 1) {
      means.push((sum + left * k) / perUnit / step);
      here -= left;
      left = step;
      sum = 0;
    }
    sum += here * k;
    left -= here;
  }
  // What rounding leaves open belongs to the last.
  while (means.length < steps) {
    means.push(sum / perUnit / step);
    sum = 0;
  }
  return means;
}
