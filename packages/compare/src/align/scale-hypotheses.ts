import { compareDefaults } from '../defaults.ts';
import type { Landmarks } from './landmarks.ts';
import type { Surface } from './surface.ts';

/** Scale factors worth trying, likeliest first, without 1. */
export function scaleHypotheses(before: Surface, after: Surface, a: Landmarks, b: Landmarks): number[] {
  const found: number[] = [...triangleRatios(before, after), ...loopRatios(a, b)];
  if (before.volume * after.volume !== 0) found.push(Math.cbrt(Math.abs(after.volume / before.volume)));
  found.push(Math.sqrt(after.area / before.area), after.diagonal / before.diagonal);
  const trace = (s: readonly number[]): number => s[0] + s[4] + s[8];
  found.push(Math.sqrt(trace(after.spread) / trace(before.spread)));
  const units = compareDefaults.unitFactors.flatMap(u => [u, 1 / u]);
  const near = units.filter(u => found.some(s => Math.abs(Math.log(s / u)) < 0.05));
  const distinct: number[] = [];
  for (const s of [...near, ...found]) {
    if (!(s > 0) || !Number.isFinite(s) || Math.abs(s - 1) < 2e-4) continue;
    if (distinct.every(d => Math.abs(Math.log(s / d)) > 1e-5)) distinct.push(s);
  }
  return distinct.slice(0, compareDefaults.alignScales);
}

/** The one factor that makes the whole of BEFORE into AFTER, if area and volume agree on it; else none. */
export function wholeScale(before: Surface, after: Surface): number[] {
  const byArea = Math.sqrt(after.area / before.area);
  const byVolume = Math.cbrt(Math.abs(after.volume / before.volume));
  return Math.abs(byArea - 1) > 2e-4 && Math.abs(byVolume / byArea - 1) < 1e-3 ? [byArea] : [];
}

const RATIO_FACES = 20_000;

/** The commonest ratios of the longest edges of triangles alike in their angles; rare angles count most. */
function triangleRatios(before: Surface, after: Surface): number[] {
  const most = Math.max(before.faceArea.length, after.faceArea.length);
  const thinning = Math.ceil(most / RATIO_FACES);
  const classes = new Map<number, { before: number[]; after: number[] }>();
  const gather = (s: Surface, side: 'before' | 'after'): void => {
    forEachShape(s, thinning, (key, longest) => {
      let c = classes.get(key);
      if (c === undefined) classes.set(key, (c = { before: [], after: [] }));
      if (c[side].length < 16) c[side].push(longest);
    });
  };
  gather(before, 'before');
  gather(after, 'after');
  const votes: { ratio: number; weight: number }[] = [];
  for (const c of classes.values()) {
    const pairs = c.before.length * c.after.length;
    if (pairs === 0) continue;
    for (const x of c.before) {
      for (const y of c.after) votes.push({ ratio: y / x, weight: (x / before.diagonal) ** 2 / pairs });
    }
  }
  return peaks(votes, 2e-5, 2);
}

function forEachShape(
  { mesh, faceArea }: Surface,
  thinning: number,
  visit: (key: number, longest: number) => void,
): void {
  const { positions: p, triangles: t } = mesh;
  const edge = (i: number, j: number): number =>
    Math.hypot(p[i] - p[j], p[i + 1] - p[j + 1], p[i + 2] - p[j + 2]);
  for (let f = 0; f < faceArea.length; f += 1) {
    if (!(faceArea[f] > 0)) continue;
    const i = 3 * t[3 * f];
    const j = 3 * t[3 * f + 1];
    const k = 3 * t[3 * f + 2];
    const x = edge(i, j);
    const y = edge(j, k);
    const z = edge(k, i);
    const longest = Math.max(x, y, z);
    const shortest = Math.min(x, y, z);
    const low = Math.floor((shortest / longest) * 4096 + 0.3719);
    const mid = Math.floor(((x + y + z - longest - shortest) / longest) * 4096 + 0.3719);
    const key = low * 8192 + mid;
    if (thinning > 1 && (Math.imul(key, 0x9e3779b1) >>> 8) % thinning !== 0) continue;
    visit(key, longest);
  }
}

/** Ratios of the sizes of outlines: bores and pads that were scaled all tell the same factor. */
function loopRatios(a: Landmarks, b: Landmarks): number[] {
  const votes: { ratio: number; weight: number }[] = [];
  for (const x of a.loops) {
    for (const y of b.loops) if (x.hole === y.hole) votes.push({ ratio: y.size / x.size, weight: 1 });
  }
  return peaks(votes, 5e-4, 3);
}

/** The middles of the fullest windows of the given relative width. */
function peaks(votes: { ratio: number; weight: number }[], width: number, count: number): number[] {
  const sorted = votes.filter(v => v.ratio > 0 && Number.isFinite(v.ratio)).sort((p, q) => p.ratio - q.ratio);
  const windows: { middle: number; weight: number }[] = [];
  let low = 0;
  let weight = 0;
  let sum = 0;
  for (const vote of sorted) {
    weight += vote.weight;
    sum += vote.weight * vote.ratio;
    while (sorted[low].ratio < vote.ratio * (1 - width)) {
      weight -= sorted[low].weight;
      sum -= sorted[low].weight * sorted[low].ratio;
      low += 1;
    }
    windows.push({ middle: weight > 0 ? sum / weight : vote.ratio, weight });
  }
  windows.sort((p, q) => q.weight - p.weight);
  const out: number[] = [];
  for (const { middle } of windows) {
    if (out.length >= count) break;
    if (Math.abs(middle - 1) < 2e-4) continue;
    if (out.every(s => Math.abs(Math.log(s / middle)) > 3 * width)) out.push(middle);
  }
  return out;
}
