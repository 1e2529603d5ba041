import type { Comparison } from '../comparison.ts';
import { byText, pathLikeness } from './edit-distance.ts';
import type { ShapedEntry } from './pair-by-shape.ts';
import { treeDefaults } from './tree-defaults.ts';

/** A whole and the files that it was cut into (or, the other way, glued from). */
export interface CutWhole {
  readonly whole: string;
  readonly pieces: readonly { readonly path: string; readonly comparison: Comparison }[];
}

/**
 * Finds wholes that were cut into several files: each piece lies in the whole, nearly nothing sticking out, and
 * their volumes sum to the whole's. Every file is used once.
 *
 * @param compare compares a whole with a piece; null when that fails
 * @param outside the material of the piece that is not in the whole: `added` or `removed`, by the direction compared
 */
export async function findCuts(
  wholes: readonly ShapedEntry[],
  pieces: readonly ShapedEntry[],
  compare: (whole: string, piece: string) => Promise<Comparison | null>,
  outside: 'added_mm3' | 'removed_mm3',
): Promise<CutWhole[]> {
  const d = treeDefaults;
  const used = new Set<string>();
  const found: CutWhole[] = [];
  for (const whole of [...wholes].sort((a, b) => byText(a.path, b.path))) {
    const volume = whole.shape.volume_mm3;
    if (volume === null) continue;
    const smaller = pieces
      .filter(piece => !used.has(piece.path) && (piece.shape.volume_mm3 ?? Infinity) < volume * d.piecesLeast)
      .sort(
        (a, b) =>
          pathLikeness(b.path, whole.path) - pathLikeness(a.path, whole.path) || byText(a.path, b.path),
      )
      .slice(0, d.piecesTried);
    if (sum(smaller) < d.piecesLeast * volume) continue;
    const inside: { path: string; comparison: Comparison; volume: number }[] = [];
    for (const piece of smaller) {
      const comparison = await compare(whole.path, piece.path);
      const out = comparison?.volume[outside] ?? null;
      const own = piece.shape.volume_mm3 ?? 0;
      if (
        comparison !== null &&
        comparison.verdict === 'reworked' &&
        out !== null &&
        out <= d.pieceOutside * own
      )
        inside.push({ path: piece.path, comparison, volume: own });
    }
    const total = inside.reduce((all, piece) => all + piece.volume, 0);
    if (inside.length < 2 || total < d.piecesLeast * volume || total > d.piecesMost * volume) continue;
    for (const piece of inside) used.add(piece.path);
    found.push({ whole: whole.path, pieces: inside.map(({ path, comparison }) => ({ path, comparison })) });
  }
  return found;
}

function sum(entries: readonly ShapedEntry[]): number {
  return entries.reduce((all, entry) => all + (entry.shape.volume_mm3 ?? 0), 0);
}
