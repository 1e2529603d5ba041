import type { Alignment, Comparison, FeatureChange, PartComparison } from '@kinprint/compare';
import { mm, place, signedVolume } from './number-words.ts';

/** Changed bores and pins that are named one by one. */
const named = 3;

/** What of a measurement no word of a revision's changes tells, and need not be computed: walls cost most of all. */
export const withoutWords = { walls: false, overhang: false, selfIntersections: false } as const;

/** What the comparison found of one mesh, in words; null when nothing a person would write down. */
export function shapeWords(part: Pick<PartComparison, 'problem' | 'verdict' | 'comparison'>): string | null {
  if (part.problem !== null) return `could not be compared: ${part.problem.text}`;
  switch (part.verdict) {
    case 'identical':
      return null;
    case 'same-shape':
      return 'exported again, same shape';
    case 'added':
      return 'added';
    case 'removed':
      return 'removed';
    case 'replaced':
      return joined('replaced by another shape', part.comparison, false);
    case 'unsound':
      return 'changed; a mesh without a volume, so what changed cannot be said';
    case 'moved':
    case 'mirrored':
    case 'rescaled':
      return part.comparison === null ? part.verdict : motionWords(part.comparison.alignment);
    case 'reworked':
      return joined('reworked', part.comparison, true);
    case 'unreadable':
    case 'failed':
      return part.verdict;
  }
}

function joined(verdict: string, c: Comparison | null, withFeatures: boolean): string {
  if (c === null) return verdict;
  const words = [verdict];
  if (withFeatures) {
    const motion = motionWords(c.alignment);
    if (c.alignment.mirrored || c.alignment.kind.endsWith('scale')) words.push(motion);
    words.push(...featureWords(c));
  }
  const { added_mm3, removed_mm3 } = c.volume;
  if (added_mm3 !== null && removed_mm3 !== null && added_mm3 + removed_mm3 > 0)
    words.push(
      [
        added_mm3 > 0 ? `${signedVolume(added_mm3)} mm³` : '',
        removed_mm3 > 0 ? `${signedVolume(-removed_mm3)} mm³` : '',
      ]
        .filter(Boolean)
        .join(' '),
    );
  return words.join('; ');
}

function featureWords(c: Comparison): string[] {
  const changed = c.features.changed.filter(change => change.after.kind !== 'plane');
  const words = changed.slice(0, named).map(changeWords);
  if (changed.length > named) words.push(`${changed.length - named} more bores or pins changed`);
  const bores = (list: readonly { readonly kind: string }[]) => list.filter(f => f.kind === 'bore').length;
  for (const [count, what] of [
    [bores(c.features.added), 'added'],
    [bores(c.features.removed), 'gone'],
  ] as const)
    if (count > 0) words.push(`${count} ${count === 1 ? 'bore' : 'bores'} ${what}`);
  return words;
}

/** `bore 3.20 → 3.00 mm at (1.0, 2.0, 3.0)`. */
function changeWords({ before, after, what }: FeatureChange): string {
  const at = `at ${place(after.at_mm)}`;
  if (before.kind !== 'plane' && after.kind !== 'plane' && what.includes('diameter'))
    return `${after.kind} ${mm(before.diameter_mm)} → ${mm(after.diameter_mm)} mm ${at}`;
  return `${after.kind} ${at}: other ${what.join(', ')}`;
}

/** `mirrored, scaled by 1.1, moved`. */
function motionWords(a: Alignment): string {
  const [x, y, z] = a.scale;
  const uniform = Math.abs(x - y) + Math.abs(y - z) < 1e-9 * Math.abs(x);
  const factor = (s: number) => String(Number(s.toFixed(4)));
  const scaled = Math.abs(x - 1) > 1e-9 || !uniform;
  return (
    [
      a.mirrored ? 'mirrored' : '',
      scaled ? `scaled by ${uniform ? factor(x) : `${a.scale.map(factor).join(', ')} along x, y, z`}` : '',
      a.rotation_deg > 1e-6 ? `turned ${mm(a.rotation_deg)}°` : '',
      a.translation_mm.some(v => Math.abs(v) > 1e-9) && !a.mirrored && !scaled
        ? `moved by ${place(a.translation_mm)} mm`
        : '',
    ]
      .filter(Boolean)
      .join(', ') || 'moved'
  );
}
