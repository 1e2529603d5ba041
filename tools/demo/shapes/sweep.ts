import type { Vec2 } from './solid.ts';
import type { Solid } from './solid.ts';

/** A point of the path that a section is swept along, in the plane z = 0. */
export interface Station {
  readonly at: Vec2;
  /** Unit vector along the path. */
  readonly along: Vec2;
}

/**
 * Sweeps a section along a path in the xy plane: a band. The section's first coordinate points to the right of the
 * path, the second up along z. Both ends are rounded over half the section's width.
 *
 * @param section counter-clockwise outline about the origin, convex.
 * @param roundings facets of each rounded end.
 */
export function sweep(section: readonly Vec2[], path: readonly Station[], roundings = 4): Solid {
  const radius = Math.max(...section.map(([across]) => across));
  const rings: { readonly station: Station; readonly shift: number; readonly inset: number }[] = [];
  const first = path.at(0);
  const last = path.at(-1);
  if (first === undefined || last === undefined) throw new RangeError('A path needs at least one station.');
  // A nearly closed end would leave needles, so the rounding stops short of a full quarter turn.
  const angle = (step: number): number => ((step / roundings) * 80 * Math.PI) / 180;
  for (let i = roundings; i > 0; i--)
    rings.push({ station: first, shift: -radius * Math.sin(angle(i)), inset: 1 - Math.cos(angle(i)) });
  for (const station of path) rings.push({ station, shift: 0, inset: 0 });
  for (let i = 1; i <= roundings; i++)
    rings.push({ station: last, shift: radius * Math.sin(angle(i)), inset: 1 - Math.cos(angle(i)) });

  const n = section.length;
  const positions = new Float32Array(3 * n * rings.length);
  rings.forEach(({ station, shift, inset }, r) => {
    const [tx, ty] = station.along;
    section.forEach(([across, up], k) => {
      const side = across * (1 - inset);
      const height = up - Math.sign(up) * Math.min(Math.abs(up), radius) * inset;
      positions.set(
        [station.at[0] + tx * shift + ty * side, station.at[1] + ty * shift - tx * side, height],
        3 * (r * n + k),
      );
    });
  });

  const triangles: number[] = [];
  for (let r = 0; r + 1 < rings.length; r++) {
    for (let k = 0; k < n; k++) {
      const a = r * n + k;
      const b = r * n + ((k + 1) % n);
      triangles.push(a, a + n, b, b, a + n, b + n);
    }
  }
  const end = (rings.length - 1) * n;
  for (let k = 1; k + 1 < n; k++) triangles.push(0, k, k + 1, end, end + k + 1, end + k);
  return { op: 'mesh', mesh: { positions, triangles: Uint32Array.from(triangles) } };
}

/** Stations along an ellipse about the origin, from one parameter angle to another (degrees, growing). */
export function ellipsePath(a: number, b: number, from: number, to: number, steps: number): Station[] {
  return Array.from({ length: steps + 1 }, (_, i) => {
    const t = ((from + ((to - from) * i) / steps) * Math.PI) / 180;
    const x = -a * Math.sin(t);
    const y = b * Math.cos(t);
    const length = Math.hypot(x, y);
    return { at: [a * Math.cos(t), b * Math.sin(t)], along: [x / length, y / length] };
  });
}
