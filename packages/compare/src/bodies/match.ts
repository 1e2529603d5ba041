import type { Mesh } from '@kinprint/mesh';
import { align, type AlignResult } from '../align/align.ts';
import type { AlignedVerdict, Alignment, BodyMatch } from '../comparison.ts';
import { compareDefaults } from '../defaults.ts';
import { sameTriangles } from '../same-triangles.ts';
import { bodyVolume } from './body-volume.ts';

/** A body of BEFORE with its counterpart in AFTER, or one of the two alone. */
export interface MatchedBody {
  readonly before: number | null;
  readonly after: number | null;
  /** The body's own alignment; null when it has no counterpart. */
  readonly result: AlignResult | null;
}

/**
 * Pairs the bodies of two files: first those that the file's own alignment already brings together, then those of
 * the same shape wherever they lie, last those recognisably made from one another. Each body is used once.
 *
 * @param whole alignment of the whole files; tried first for every body
 */
export function matchBodies(
  before: readonly Mesh[],
  after: readonly Mesh[],
  whole: Alignment,
  tolerance_mm: number,
): MatchedBody[] {
  const freeBefore = new Set(before.keys());
  const freeAfter = new Set(after.keys());
  const found: MatchedBody[] = [];
  const take = (i: number, j: number, result: AlignResult): void => {
    freeBefore.delete(i);
    freeAfter.delete(j);
    found.push({ before: i, after: j, result });
  };
  const volumes = { before: before.map(bodyVolume), after: after.map(bodyVolume) };
  const alike = (i: number, j: number, slack: number): boolean => {
    const a = Math.abs(volumes.before[i] ?? NaN);
    const b = Math.abs(volumes.after[j] ?? NaN);
    return !(Math.abs(a - b) > slack * Math.max(a, b));
  };

  // Nearest first and a bounded number: two plates of hundreds of bodies must not cost their product.
  let left = compareDefaults.bodyAlignments * (before.length + after.length);
  const passes: readonly { readonly slack: number; readonly exact: boolean }[] = [
    { slack: 0.02, exact: true },
    { slack: 0.9, exact: false },
  ];
  for (const pass of passes) {
    // Nearest counterparts first: among equal bodies on a plate the one closest to no motion is the same one.
    const offers = [...freeBefore].flatMap(i =>
      [...freeAfter]
        .filter(j => alike(i, j, pass.slack))
        .map(j => ({ i, j, far: gap(before[i], after[j], whole) })),
    );
    offers.sort((p, q) => p.far - q.far || p.i - q.i || p.j - q.j);
    const results: { i: number; j: number; far: number; result: AlignResult }[] = [];
    for (const { i, j, far } of offers) {
      if (!freeBefore.has(i) || !freeAfter.has(j) || left === 0) continue;
      left -= 1;
      const result = align(before[i], after[j], { tolerance_mm });
      if (!believable(result, whole)) continue;
      if (result.exact) take(i, j, result);
      else if (!pass.exact && result.alignment.kind !== 'none') results.push({ i, j, far, result });
    }
    results.sort((p, q) => q.result.alignment.matched - p.result.alignment.matched || p.far - q.far);
    for (const { i, j, result } of results) if (freeBefore.has(i) && freeAfter.has(j)) take(i, j, result);
  }
  for (const i of freeBefore) found.push({ before: i, after: null, result: null });
  for (const j of freeAfter) found.push({ before: null, after: j, result: null });
  return found.sort(
    (p, q) => (p.after ?? Infinity) - (q.after ?? Infinity) || (p.before ?? 0) - (q.before ?? 0),
  );
}

/**
 * Among several bodies some cube is another cube at another size: a body is believed to be rescaled only along with
 * its whole file.
 */
function believable({ alignment }: AlignResult, whole: Alignment): boolean {
  const sizes = alignment.scale.map((s, k) => s / whole.scale[k as 0]);
  return sizes.every(s => Math.abs(s - 1) < 1e-4) || alignment.scale.every(s => s === 1);
}

/** The line a matched body gets in the result. */
export function bodyLine(body: MatchedBody, before: readonly Mesh[], after: readonly Mesh[]): BodyMatch {
  const volumeOf = (meshes: readonly Mesh[], k: number | null): number | null => {
    const mesh = k === null ? undefined : meshes[k];
    return mesh === undefined ? null : bodyVolume(mesh);
  };
  return {
    before: body.before,
    after: body.after,
    verdict: bodyVerdict(body, before, after),
    alignment: body.result?.alignment ?? null,
    volume_before_mm3: volumeOf(before, body.before),
    volume_after_mm3: volumeOf(after, body.after),
  };
}

/** The verdict of one body; `identical` only for the same triangles facing the same way. */
export function bodyVerdict(
  { before: i, after: j, result }: MatchedBody,
  before: readonly Mesh[],
  after: readonly Mesh[],
): BodyMatch['verdict'] {
  if (i === null) return 'added';
  if (j === null) return 'removed';
  const verdict = alignedVerdict(result);
  return verdict === 'same-shape' && sameTriangles(before[i], after[j]) ? 'identical' : verdict;
}

/** The verdict that an alignment alone can give. */
export function alignedVerdict(result: AlignResult | null): AlignedVerdict {
  if (result === null || result.alignment.kind === 'none') return 'replaced';
  if (!result.exact) return 'reworked';
  switch (result.alignment.kind) {
    case 'identity':
      return 'same-shape';
    case 'rigid':
      return 'moved';
    case 'mirrored':
      return 'mirrored';
    case 'uniform-scale':
    case 'axis-scale':
      return 'rescaled';
  }
}

/** How far apart the middles of two bodies are once the first has followed the whole file. */
function gap(before: Mesh | undefined, after: Mesh | undefined, whole: Alignment): number {
  if (before === undefined || after === undefined) return Infinity;
  const a = middle(before);
  const b = middle(after);
  const m = whole.matrix;
  return Math.hypot(
    ...[0, 1, 2].map(k => {
      const row = m[k as 0 | 1 | 2];
      return row[0] * a[0] + row[1] * a[1] + row[2] * a[2] + row[3] - b[k as 0 | 1 | 2];
    }),
  );
}

function middle(mesh: Mesh): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  const p = mesh.positions;
  for (let k = 0; k < p.length; k += 3) {
    sum[0] += p[k];
    sum[1] += p[k + 1];
    sum[2] += p[k + 2];
  }
  const n = Math.max(1, p.length / 3);
  return [sum[0] / n, sum[1] / n, sum[2] / n];
}
