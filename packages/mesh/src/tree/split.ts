import type { FaceBoxes } from './face-boxes.ts';

/** Bins per axis; more cost build time and gain little (Wald 2007 uses 4 to 16). */
const bins = 8;
/** Nodes with no more faces than this are split at the middle of their widest axis. */
const small = 32;
/** Larger nodes are judged by an even sample of at least this many of their faces. */
const sample = 64;

/**
 * Returns a function that reorders the boxes `start`…`end` of `faces` into two groups and returns where the second
 * begins; always strictly between. With `halve` the groups have the same size.
 */
export function createSplitter(faces: FaceBoxes): (start: number, end: number, halve: boolean) => number {
  const { boxes, faces: ids } = faces;
  const counts = new Int32Array(bins);
  const binBoxes = new Float32Array(6 * bins);
  const rightCost = new Float64Array(bins);

  return (start, end, halve) => {
    let x0 = Infinity;
    let y0 = Infinity;
    let z0 = Infinity;
    let x1 = -Infinity;
    let y1 = -Infinity;
    let z1 = -Infinity;
    const stride = Math.max(1, Math.floor((end - start) / sample));
    for (let i = 6 * start, last = 6 * end; i < last; i += 6 * stride) {
      const x = boxes[i] + boxes[i + 3];
      const y = boxes[i + 1] + boxes[i + 4];
      const z = boxes[i + 2] + boxes[i + 5];
      if (x < x0) x0 = x;
      if (x > x1) x1 = x;
      if (y < y0) y0 = y;
      if (y > y1) y1 = y;
      if (z < z0) z0 = z;
      if (z > z1) z1 = z;
    }
    let axis = 0;
    let low = x0;
    let extent = x1 - x0;
    if (y1 - y0 > extent) {
      axis = 1;
      low = y0;
      extent = y1 - y0;
    }
    if (z1 - z0 > extent) {
      axis = 2;
      low = z0;
      extent = z1 - z0;
    }
    const half = (start + end) >>> 1;
    // Also when the centers coincide, or their differences are too small to divide by.
    if (halve || !(bins / extent < Infinity)) return half;
    let share = 0.5;
    if (end - start > small) {
      const sampled = fillBins(boxes, start, end, stride, axis, low, bins / extent, counts, binBoxes);
      share = (cheapestBin(counts, binBoxes, rightCost, sampled) + 1) / bins;
    }
    const middle = partitionAt(boxes, ids, start, end, axis, low + share * extent);
    return middle > start && middle < end ? middle : half;
  };
}

function fillBins(
  boxes: Float32Array,
  start: number,
  end: number,
  stride: number,
  axis: number,
  low: number,
  factor: number,
  counts: Int32Array,
  binBoxes: Float32Array,
): number {
  counts.fill(0);
  for (let k = 0; k < 6 * bins; k += 6) {
    binBoxes[k] = binBoxes[k + 1] = binBoxes[k + 2] = Infinity;
    binBoxes[k + 3] = binBoxes[k + 4] = binBoxes[k + 5] = -Infinity;
  }
  let sampled = 0;
  for (let i = 6 * start, last = 6 * end; i < last; i += 6 * stride) {
    const bin = Math.min(bins - 1, ((boxes[i + axis] + boxes[i + axis + 3] - low) * factor) | 0);
    sampled++;
    counts[bin]++;
    const k = 6 * bin;
    for (let side = 0; side < 3; side++) {
      const least = boxes[i + side];
      const most = boxes[i + side + 3];
      if (least < binBoxes[k + side]) binBoxes[k + side] = least;
      if (most > binBoxes[k + side + 3]) binBoxes[k + side + 3] = most;
    }
  }
  return sampled;
}

/** The last bin of the left group: least sum of count × half area over both groups. */
function cheapestBin(
  counts: Int32Array,
  binBoxes: Float32Array,
  rightCost: Float64Array,
  total: number,
): number {
  let x0 = Infinity;
  let y0 = Infinity;
  let z0 = Infinity;
  let x1 = -Infinity;
  let y1 = -Infinity;
  let z1 = -Infinity;
  let count = 0;
  for (let bin = bins - 1; bin > 0; bin--) {
    const k = 6 * bin;
    x0 = Math.min(x0, binBoxes[k]);
    y0 = Math.min(y0, binBoxes[k + 1]);
    z0 = Math.min(z0, binBoxes[k + 2]);
    x1 = Math.max(x1, binBoxes[k + 3]);
    y1 = Math.max(y1, binBoxes[k + 4]);
    z1 = Math.max(z1, binBoxes[k + 5]);
    count += counts[bin];
    rightCost[bin] = count === 0 ? Infinity : count * halfArea(x1 - x0, y1 - y0, z1 - z0);
  }
  x0 = y0 = z0 = Infinity;
  x1 = y1 = z1 = -Infinity;
  count = 0;
  let best = (bins >> 1) - 1;
  let bestCost = Infinity;
  for (let bin = 0; bin < bins - 1; bin++) {
    const k = 6 * bin;
    x0 = Math.min(x0, binBoxes[k]);
    y0 = Math.min(y0, binBoxes[k + 1]);
    z0 = Math.min(z0, binBoxes[k + 2]);
    x1 = Math.max(x1, binBoxes[k + 3]);
    y1 = Math.max(y1, binBoxes[k + 4]);
    z1 = Math.max(z1, binBoxes[k + 5]);
    count += counts[bin];
    if (count === 0 || count === total) continue;
    const cost = count * halfArea(x1 - x0, y1 - y0, z1 - z0) + rightCost[bin + 1];
    if (cost < bestCost) {
      bestCost = cost;
      best = bin;
    }
  }
  return best;
}

function halfArea(x: number, y: number, z: number): number {
  return x * y + y * z + z * x;
}

function partitionAt(
  boxes: Float32Array,
  ids: Uint32Array,
  start: number,
  end: number,
  axis: number,
  at: number,
): number {
  let left = start;
  let right = end - 1;
  for (;;) {
    while (left <= right && boxes[6 * left + axis] + boxes[6 * left + axis + 3] <= at) left++;
    while (left <= right && boxes[6 * right + axis] + boxes[6 * right + axis + 3] > at) right--;
    if (left >= right) return left;
    swap(boxes, ids, left++, right--);
  }
}

function swap(boxes: Float32Array, ids: Uint32Array, i: number, j: number): void {
  const id = ids[i];
  ids[i] = ids[j]!;
  ids[j] = id;
  for (let k = 0, a = 6 * i, b = 6 * j; k < 6; k++, a++, b++) {
    const value = boxes[a];
    boxes[a] = boxes[b]!;
    boxes[b] = value;
  }
}
