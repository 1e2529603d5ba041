import type { Comparison, PartVerdict } from '@kinprint/compare';
import { paints, padEnd, type Style } from './layout.ts';
import { num } from './words.ts';

/** The longest word sets the column. */
export const verdictColumns = 'same-shape'.length;

/** The verdict, padded to its column; the color repeats what the word says. */
export function paintVerdict(verdict: PartVerdict, style: Style): string {
  const paint = paints(style);
  const text = padEnd(verdict, verdictColumns);
  switch (verdict) {
    case 'identical':
    case 'same-shape':
      return paint.dim(text);
    case 'moved':
    case 'mirrored':
    case 'rescaled':
      return paint.cyan(text);
    case 'added':
    case 'removed':
    case 'reworked':
      return paint.bold(paint.blue(text));
    case 'replaced':
    case 'unsound':
    case 'unreadable':
    case 'failed':
      return paint.bold(paint.magenta(text));
  }
}

/** The verdict of a pair in one sentence. */
export function meaning(c: Comparison): string {
  const within = `within ${num(c.tolerance_mm, 3)} mm`;
  switch (c.verdict) {
    case 'identical':
      return 'The same triangles, at the same place.';
    case 'same-shape':
      return `The same surface at the same place ${within}, triangulated differently.`;
    case 'moved':
      return `The same shape ${within}, at another place.`;
    case 'mirrored':
      return `The mirror image ${within}.`;
    case 'rescaled':
      return `The same shape ${within}, at another size.`;
    case 'reworked': {
      const from = c.alignment.mirrored
        ? 'the mirror image of the first'
        : c.alignment.kind.endsWith('scale')
          ? 'the rescaled first'
          : 'the first';
      return `Made from ${from} and changed: ${(Math.floor(1000 * c.alignment.matched) / 10).toFixed(1)} % of the surface coincides ${within}.`;
    }
    case 'replaced':
      return 'Another shape: no motion, reflection or scaling makes the two coincide.';
    case 'unsound':
      return 'The shapes differ, and at least one has no volume: what material changed cannot be said.';
  }
}
