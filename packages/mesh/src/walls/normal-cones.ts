import { leafCount, leafStart, type TriangleTree } from '../tree/tree.ts';

/** For every node of a tree a cone that holds the directions along which its faces may face. */
export interface NormalCones {
  /** Unit axis, 3 per node. */
  readonly axes: Float32Array;
  /** Half angle per node, radians; π where the normals point everywhere. */
  readonly angles: Float32Array;
}

/**
 * Cones from the leaves up: the axis is the mean of the children's, the angle reaches the farthest of them. Safe
 * bounds, not the narrowest ones.
 *
 * @param normals unit normals, 3 per slot; 0, 0, 0 for a face without area, which no cone need hold
 * @param reach half angle of the cone of each slot
 */
export function normalCones(
  { links }: TriangleTree,
  normals: Float64Array,
  reach: Float32Array,
): NormalCones {
  const axes = new Float32Array(3 * links.length);
  const angles = new Float32Array(links.length);
  for (let node = links.length - 1; node >= 0; node--) {
    const link = links[node];
    const [source, first, count] = link >= 0 ? [axes, link, 2] : [normals, leafStart(link), leafCount(link)];
    let x = 0;
    let y = 0;
    let z = 0;
    for (let i = first; i < first + count; i++) {
      x += source[3 * i];
      y += source[3 * i + 1];
      z += source[3 * i + 2];
    }
    const length = Math.sqrt(x * x + y * y + z * z);
    if (!(length > 1e-3)) {
      axes[3 * node + 2] = 1;
      angles[node] = Math.PI;
      continue;
    }
    x /= length;
    y /= length;
    z /= length;
    let widest = 0;
    for (let i = first; i < first + count; i++) {
      const cos = source[3 * i] * x + source[3 * i + 1] * y + source[3 * i + 2] * z;
      const own = link >= 0 ? angles[i] : reach[i];
      if (link < 0 && source[3 * i] === 0 && source[3 * i + 1] === 0 && source[3 * i + 2] === 0) continue;
      widest = Math.max(widest, own + Math.acos(Math.min(1, cos)));
    }
    axes[3 * node] = x;
    axes[3 * node + 1] = y;
    axes[3 * node + 2] = z;
    // 32 bits hold a direction to about 1e-7.
    angles[node] = Math.min(Math.PI, widest + 1e-3);
  }
  return { axes, angles };
}
