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
 * Finds files that gather what stands in several files of the other tree (or several times in one): a plate. Bodies
 * must be the same shapes, moved at will, or be reworked from files that have no counterpart. A file counts when at
 * least two of its bodies are found.
 *
 * @param gatherers free files with several bodies
 * @param sources files of the other tree; free ones are preferred
 * @param compare compares a source's body with a gatherer's body; null when that fails
 */
export async function gatherBodies(
  gatherers: readonly BodiedEntry[],
  sources: readonly BodiedEntry[],
  compare: (source: BodyRef, gatherer: BodyRef) => Promise<Comparison | null>,
): Promise<Gathered[]> {
  const parts = sources.flatMap(({ path, summary, free }) =>
    summary.bodies.map((shape, body) => ({
      path,
      free,
      shape,
      body: summary.bodies.length === 1 ? null : body,
    })),
  );
  const found: Gathered[] = [];
  const usedSources = new Set<string>();
  for (const gatherer of [...gatherers].sort((a, b) => byText(a.path, b.path))) {
    const uses = new Map<string, number>();
    const pieces: { source: string; sourceBody: number | null; body: number; comparison: Comparison }[] = [];
    for (const [body, shape] of gatherer.summary.bodies.entries()) {
      const near = parts
        .map(part => ({ ...part, far: shapeDistance(part.shape, shape) }))
        .filter(({ far, free }) => far <= (free ? treeDefaults.gatheredAlike : treeDefaults.congruent));
      const key = (part: { path: string; body: number | null }): string => `${part.path}\0${part.body}`;
      const congruent = ({ far }: { far: number }): number => Number(far <= treeDefaults.congruent);
      // The same shapes first. Among them, files that lost their counterpart first, each once before any twice, then by likeness of paths.
      near.sort(
        (a, b) =>
          congruent(b) - congruent(a) ||
          Number(b.free && !usedSources.has(b.path)) - Number(a.free && !usedSources.has(a.path)) ||
          (uses.get(key(a)) ?? 0) - (uses.get(key(b)) ?? 0) ||
          pathLikeness(b.path, gatherer.path) - pathLikeness(a.path, gatherer.path) ||
          byText(key(a), key(b)),
      );
      for (const part of near.slice(0, treeDefaults.candidates)) {
        const comparison = await compare({ path: part.path, body: part.body }, { path: gatherer.path, body });
        if (comparison === null || !isMatch(comparison, part.free)) continue;
        uses.set(key(part), (uses.get(key(part)) ?? 0) + 1);
        pieces.push({ source: part.path, sourceBody: part.body, body, comparison });
        break;
      }
    }
    if (pieces.length < 2) continue;
    for (const piece of pieces) usedSources.add(piece.source);
    found.push(grouped(gatherer, pieces));
  }
  return found;
}

/** A file that lost its counterpart may have changed on its way; one that still has it was only copied. */
function isMatch(comparison: Comparison, free: boolean): boolean {
  return isSameShape(comparison) || (free && comparison.verdict === 'reworked');
}

function grouped(
  gatherer: BodiedEntry,
  pieces: readonly { source: string; sourceBody: number | null; body: number; comparison: Comparison }[],
): Gathered {
  const names = [...new Set(pieces.map(piece => piece.source))].sort(byText);
  const matched = new Set(pieces.map(piece => piece.body));
  return {
    path: gatherer.path,
    from: names.map(source => ({ source, pieces: pieces.filter(piece => piece.source === source) })),
    strange: [...gatherer.summary.bodies.keys()].filter(body => !matched.has(body)),
  };
}
