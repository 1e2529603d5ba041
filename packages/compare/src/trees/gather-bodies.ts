import type { Comparison } from '../comparison.ts';
import { byText, pathLikeness } from './edit-distance.ts';
import { isSameShape } from './pair-by-shape.ts';
import { shapeDistance } from './shape-distance.ts';
import type { FileSummary } from './shape-summary.ts';
import { treeDefaults } from './tree-defaults.ts';

/** A file with its bodies. */
export interface BodiedEntry {
  readonly path: string;
  readonly summary: FileSummary;
  /** Whether the file has no counterpart yet. */
  readonly free: boolean;
}

/** A body of a file, or the whole file (null). */
export interface BodyRef {
  readonly path: string;
  readonly body: number | null;
}

/** Bodies of a gathered file that come from one other file. */
export interface GatheredFrom {
  readonly source: string;
  readonly pieces: readonly {
    readonly sourceBody: number | null;
    readonly body: number;
    readonly comparison: Comparison;
  }[];
}

export interface Gathered {
  readonly path: string;
  readonly from: readonly GatheredFrom[];
  /** Bodies that come from nowhere. */
  readonly strange: readonly number[];
}

/**
 * Tells whether a file gathers what stands in several files of the other tree (or several times in one): a plate.
 *
 * Bodies must be the same shapes, moved at will, or be reworked from files that have no counterpart. The shape itself
 * wins over its mirror image. The file counts when at least two of its bodies are found.
 *
 * @param sources files of the other tree; free ones are preferred
 * @param compare compares a source's body with a gatherer's body; null when that fails
 */
export async function gatherBodies(
  gatherer: BodiedEntry,
  sources: readonly BodiedEntry[],
  compare: (source: BodyRef, gatherer: BodyRef) => Promise<Comparison | null>,
): Promise<Gathered | null> {
  const parts = sources.flatMap(({ path, summary, free }) =>
    summary.bodies.map((shape, body) => ({
      key: `${path}\0${body}`,
      path,
      free,
      shape,
      body: summary.bodies.length === 1 ? null : body,
      like: pathLikeness(path, gatherer.path),
    })),
  );
  const uses = new Map<string, number>();
  const pieces: Piece[] = [];
  for (const [body, shape] of gatherer.summary.bodies.entries()) {
    const near = parts.flatMap(part => {
      const far = shapeDistance(part.shape, shape);
      if (far > (part.free ? treeDefaults.gatheredAlike : treeDefaults.congruent)) return [];
      return [{ ...part, congruent: far <= treeDefaults.congruent }];
    });
    // The same shapes first. Among them, files that lost their counterpart, each once before any twice.
    near.sort(
      (a, b) =>
        Number(b.congruent) - Number(a.congruent) ||
        Number(b.free) - Number(a.free) ||
        (uses.get(a.key) ?? 0) - (uses.get(b.key) ?? 0) ||
        b.like - a.like ||
        byText(a.key, b.key),
    );
    let found: (Piece & { readonly key: string }) | null = null;
    for (const part of near.slice(0, treeDefaults.candidates)) {
      const comparison = await compare({ path: part.path, body: part.body }, { path: gatherer.path, body });
      if (comparison === null || !isMatch(comparison, part.free)) continue;
      // After a mirror image only the shape itself is better.
      if (found !== null && (comparison.alignment.mirrored || !isSameShape(comparison))) continue;
      found = { key: part.key, source: part.path, sourceBody: part.body, body, comparison };
      if (!comparison.alignment.mirrored) break;
    }
    if (found === null) continue;
    uses.set(found.key, (uses.get(found.key) ?? 0) + 1);
    pieces.push(found);
  }
  return pieces.length < 2 ? null : grouped(gatherer, pieces);
}

interface Piece {
  readonly source: string;
  readonly sourceBody: number | null;
  readonly body: number;
  readonly comparison: Comparison;
}

/** A file that lost its counterpart may have changed on its way; one that still has it was only copied. */
function isMatch(comparison: Comparison, free: boolean): boolean {
  return isSameShape(comparison) || (free && comparison.verdict === 'reworked');
}

function grouped(gatherer: BodiedEntry, pieces: readonly Piece[]): Gathered {
  const names = [...new Set(pieces.map(piece => piece.source))].sort(byText);
  const matched = new Set(pieces.map(piece => piece.body));
  return {
    path: gatherer.path,
    from: names.map(source => ({ source, pieces: pieces.filter(piece => piece.source === source) })),
    strange: [...gatherer.summary.bodies.keys()].filter(body => !matched.has(body)),
  };
}
