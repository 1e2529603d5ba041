import { measureMesh, type Mesh, type Note, type ThinPlace, type Vec3 } from '@kinprint/mesh';
import { place } from '../record/number-words.ts';

/** The thinnest place of a mesh; null where it has no walls. */
export function thinnestOf(mesh: Mesh): ThinPlace | null {
  const asked = { walls: true, overhang: false, selfIntersections: false };
  return measureMesh(mesh, asked).thin_places[0] ?? null;
}

export type ThinnestOfThree = Readonly<Record<'base' | 'a' | 'b', number | null>>;

/** How thin each of three meshes is at its thinnest, in mm; worked out when it is asked for first. */
export function onceThinnest(
  sources: Readonly<Record<'base' | 'a' | 'b', { readonly mesh: Mesh }>>,
): () => ThinnestOfThree {
  let known: ThinnestOfThree | null = null;
  const of = (side: 'base' | 'a' | 'b'): number | null =>
    thinnestOf(sources[side].mesh)?.thickness_mm ?? null;
  return () => (known ??= { base: of('base'), a: of('a'), b: of('b') });
}

/** A loss of less than this share is not told: what a reprint takes off or puts on is more. */
const told = 0.05;

/**
 * What is to be said of a result that is thinner than everything it was made from: two changes that are sound by themselves
 * may leave a wall between them that nobody can print.
 */
export function wallNotes(
  result: ThinPlace | null,
  three: ThinnestOfThree,
  tolerance_mm: number,
): readonly Note[] {
  const known = Object.values(three).filter(each => each !== null);
  if (result === null || known.length === 0) return [];
  const least_mm = Math.min(...known);
  if (result.thickness_mm >= least_mm * (1 - told) - tolerance_mm) return [];
  const [from, to] = [result.from_mm, result.to_mm];
  const middle: Vec3 = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2, (from[2] + to[2]) / 2];
  const inputs = (['base', 'a', 'b'] as const).map(
    side => `${side === 'base' ? 'base' : side.toUpperCase()} ${figure(three[side])}`,
  );
  return [
    {
      code: 'wall-thinner',
      text: `The thinnest wall of the result is ${figure(result.thickness_mm)}, at ${place(middle)}; ${inputs.join(', ')}. Look at it before it is printed.`,
    },
  ];
}

function figure(value_mm: number | null): string {
  return value_mm === null ? 'none' : `${Number(value_mm.toPrecision(3))} mm`;
}
