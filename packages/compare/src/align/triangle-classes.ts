import type { Surface } from './surface.ts';

/**
 * Faces sorted into classes of congruent triangles. Every face of BEFORE and AFTER that takes part has a key made
 * of its three rounded edge lengths; classes that occur in both meshes are listed, members by face index.
 */
export interface TriangleClass {
  readonly before: readonly number[];
  readonly after: readonly number[];
  /** Area of one member of BEFORE. */
  readonly area: number;
  /** How many pairs the class offers; more than are listed when it is crowded. */
  readonly pairs: number;
}

/** Members listed per class and side; more say nothing about where the part went. */
const MEMBERS = 64;
/** Faces per side that take part; of larger meshes the same hash picks a like subset on both sides. */
const FACES = 120_000;

/**
 * @param scale edge lengths of BEFORE are multiplied by it first
 * @param quantum the width of the bins of lengths: some way above the rounding of the coordinates
 */
export function triangleClasses(
  before: Surface,
  after: Surface,
  scale: number,
  quantum: number,
): TriangleClass[] {
  const most = Math.max(before.faceArea.length, after.faceArea.length);
  const thinning = Math.ceil(most / FACES);
  const a = faceKeys(before, scale, quantum, thinning);
  const b = faceKeys(after, 1, quantum, thinning);
  const classOf = new Map<number, number>();
  const beforeLists: number[][] = [];
  const beforeCounts: number[] = [];
  for (let k = 0; k < a.faces.length; k += 1) {
    let c = classOf.get(a.keys[k]);
    if (c === undefined) {
      c = beforeLists.length;
      classOf.set(a.keys[k], c);
      beforeLists.push([]);
      beforeCounts.push(0);
    }
    beforeCounts[c] += 1;
    if (beforeLists[c].length < MEMBERS) beforeLists[c].push(a.faces[k]);
  }
  const afterLists: number[][] = beforeLists.map(() => []);
  const afterCounts = new Uint32Array(beforeLists.length);
  for (let k = 0; k < b.faces.length; k += 1) {
    const c = classOf.get(b.keys[k]);
    if (c === undefined) continue;
    afterCounts[c] += 1;
    if (afterLists[c].length < MEMBERS) afterLists[c].push(b.faces[k]);
  }
  const classes: TriangleClass[] = [];
  beforeLists.forEach((list, c) => {
    if (afterCounts[c] === 0) return;
    const pairs = beforeCounts[c] * afterCounts[c];
    classes.push({ before: list, after: afterLists[c], area: before.faceArea[list[0]], pairs });
  });
  return classes;
}

interface Keys {
  readonly faces: Uint32Array;
  readonly keys: Float64Array;
}

function faceKeys(surface: Surface, scale: number, quantum: number, thinning: number): Keys {
  const { mesh, faceArea } = surface;
  const { positions: p, triangles: t } = mesh;
  const faces = new Uint32Array(faceArea.length);
  const keys = new Float64Array(faceArea.length);
  let n = 0;
  const per = scale / quantum;
  for (let f = 0; f < faceArea.length; f += 1) {
    if (!(faceArea[f] > 0)) continue;
    const i = 3 * t[3 * f];
    const j = 3 * t[3 * f + 1];
    const k = 3 * t[3 * f + 2];
    // An odd offset keeps round design lengths (10 mm) off the borders of the bins.
    const x = Math.floor(per * Math.sqrt(between(p, i, j)) + 0.3719);
    const y = Math.floor(per * Math.sqrt(between(p, j, k)) + 0.3719);
    const z = Math.floor(per * Math.sqrt(between(p, k, i)) + 0.3719);
    const low = Math.min(x, y, z);
    const high = Math.max(x, y, z);
    const middle = x + y + z - low - high;
    const h1 = mix(low, middle, high, 0x9e3779b1);
    if (thinning > 1 && h1 % thinning !== 0) continue;
    faces[n] = f;
    keys[n] = h1 * 2097152 + (mix(high, low, middle, 0x85ebca6b) >>> 11);
    n += 1;
  }
  return { faces: faces.subarray(0, n), keys: keys.subarray(0, n) };
}

function between(p: ArrayLike<number>, i: number, j: number): number {
  const x = p[i] - p[j];
  const y = p[i + 1] - p[j + 1];
  const z = p[i + 2] - p[j + 2];
  return x * x + y * y + z * z;
}

/** A 32-bit hash of three whole numbers; multipliers are odd with well-spread bits, common practice. */
function mix(a: number, b: number, c: number, seed: number): number {
  let h = seed;
  h = Math.imul(h ^ a, 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13) ^ b, 0xc2b2ae35);
  h = Math.imul(h ^ (h >>> 16) ^ c, 0x27d4eb2f);
  return (h ^ (h >>> 15)) >>> 0;
}
