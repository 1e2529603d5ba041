import type { Measurement, Soundness } from '@kinprint/mesh';
import { paints, type Style } from './layout.ts';
import { plural, point } from './words.ts';

type FlawKey = Exclude<keyof Soundness, 'watertight' | 'places_mm'>;

const flaws: readonly (readonly [FlawKey, string, string])[] = [
  ['boundary_edges', 'open edge', 'open edges'],
  ['boundary_loops', 'hole', 'holes'],
  ['nonmanifold_edges', 'non-manifold edge', 'non-manifold edges'],
  ['flipped_edges', 'flipped edge', 'flipped edges'],
  ['degenerate_faces', 'degenerate face', 'degenerate faces'],
  ['duplicate_faces', 'duplicate face', 'duplicate faces'],
  ['self_intersections', 'pair of faces crossing', 'pairs of faces crossing'],
  ['inverted_shells', 'inverted shell', 'inverted shells'],
];

/** The flaws of a mesh in words, each with its first place; empty when there is none. */
export function flawList(s: Soundness): string[] {
  return flaws.flatMap(([key, one, many]) => {
    const n = s[key];
    if (n === null || n === 0) return [];
    const first = s.places_mm[key]?.[0];
    return [`${plural(n, one, many)}${first === undefined ? '' : ` at ${point(first)}`}`];
  });
}

/** `watertight, 1 shell, genus 5`, or what is wrong and where. */
export function soundnessText(m: Pick<Measurement, 'soundness' | 'shells' | 'genus'>, style: Style): string {
  const paint = paints(style);
  const found = flawList(m.soundness);
  const head = m.soundness.watertight ? paint.green('watertight') : paint.red('not watertight');
  const parts = [head, plural(m.shells, 'shell'), m.genus === null ? '' : `genus ${m.genus}`, ...found];
  return parts.filter(Boolean).join(', ');
}
