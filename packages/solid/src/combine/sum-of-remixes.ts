import { createFloat64Welder, weldFloat64, type Mesh } from '@kinprint/mesh';
import { matchFaces } from '../difference/match-faces.ts';
import { snapOnto } from '../difference/snap.ts';
import type { Remix } from './types.ts';

/**
 * Whether a result is A + B − base face by face: every face of result and base is one of A's or B's, and every one of
 * theirs is there, as often and the same way round, with coordinates in single precision, as files hold them.
 *
 * Then the result winds around any point as often as A and B together less the base, so that it differs from A by
 * exactly what B changed, and from B by exactly what A changed; no boolean has to tell. Vertices of the remixes within
 * the tolerance of one of the base's count as that one, as they do for the changes themselves.
 *
 * @param meshes all in the frame of the base
 */
export function isSumOfRemixes(
  { base, a, b }: Readonly<Record<'base' | Remix, Mesh>>,
  result: Mesh,
  tolerance_mm: number,
): boolean {
  const welder = createFloat64Welder(base.positions.length / 2);
  const single = Math.fround;
  const facesOf = (meshes: readonly Mesh[]): Uint32Array => {
    const corners: number[] = [];
    for (const { positions: p, triangles } of meshes) {
      const vertex = new Uint32Array(p.length / 3);
      for (let v = 0; v < vertex.length; v++)
        vertex[v] = weldFloat64(welder, single(p[3 * v]), single(p[3 * v + 1]), single(p[3 * v + 2]));
      for (let i = 0; i < triangles.length; i += 3) {
        const [u, v, w] = [vertex[triangles[i]], vertex[triangles[i + 1]], vertex[triangles[i + 2]]];
        // One that rounding collapsed is no face.
        if (u !== v && v !== w && w !== u) corners.push(u, v, w);
      }
    }
    return Uint32Array.from(corners);
  };
  const whole = facesOf([result, base]);
  const remixes = facesOf([a, b].map(remix => snapOnto(remix, base, tolerance_mm).before));
  if (whole.length !== remixes.length) return false;
  const vertices =
    whole.reduce(
      (most, v) => Math.max(most, v),
      remixes.reduce((m, v) => Math.max(m, v), 0),
    ) + 1;
  const itself = Int32Array.from({ length: vertices }, (_, v) => v);
  // As many on both sides, so that none is left over on the one if none is on the other.
  return !matchFaces(whole, remixes, itself, vertices).before.includes(1);
}
