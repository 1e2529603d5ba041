import type { Mesh, Vec3 } from '@kinprint/mesh';

/** A point of a plane outline, millimeters. */
export type Vec2 = readonly [number, number];

/** Rows of a 3×4 affine map: linear part and translation. */
export type Affine = readonly [
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
];

/**
 * A solid as plain data: how it is made, not its triangles. `buildMesh` turns it into a mesh.
 *
 * Being data, a shape can be described without a geometry kernel at hand, and nothing has to be freed.
 */
export type Solid =
  | { readonly op: 'box'; readonly size: Vec3 }
  | {
      readonly op: 'cylinder';
      readonly height: number;
      readonly radiusLow: number;
      readonly radiusHigh: number;
      readonly segments: number;
    }
  | { readonly op: 'ball'; readonly radius: number; readonly segments: number }
  | { readonly op: 'extrusion'; readonly outline: readonly Vec2[]; readonly height: number }
  | { readonly op: 'mesh'; readonly mesh: Mesh }
  | { readonly op: 'union' | 'difference' | 'intersection' | 'hull'; readonly parts: readonly Solid[] }
  | { readonly op: 'affine'; readonly part: Solid; readonly map: Affine }
  | { readonly op: 'refine'; readonly part: Solid; readonly edge: number };

/** A box standing on z = 0, centered on the z axis. */
export function box(x: number, y: number, z: number): Solid {
  return moved({ op: 'box', size: [x, y, z] }, -x / 2, -y / 2, 0);
}

/**
 * An n-sided prism or frustum standing on z = 0 about the z axis; its corners lie on the circle of the given diameter,
 * the first one on the x axis.
 */
export function cylinder(diameter: number, height: number, segments: number, diameterHigh = diameter): Solid {
  return { op: 'cylinder', height, radiusLow: diameter / 2, radiusHigh: diameterHigh / 2, segments };
}

export function ball(diameter: number, segments: number): Solid {
  return { op: 'ball', radius: diameter / 2, segments };
}

/** An outline (counter-clockwise) pushed up from z = 0. */
export function extrusion(outline: readonly Vec2[], height: number): Solid {
  return { op: 'extrusion', outline, height };
}

export function union(...parts: Solid[]): Solid {
  return { op: 'union', parts };
}

/** The first part without all the others. */
export function difference(...parts: Solid[]): Solid {
  return { op: 'difference', parts };
}

export function intersection(...parts: Solid[]): Solid {
  return { op: 'intersection', parts };
}

/** The smallest convex solid around the parts. */
export function hull(...parts: Solid[]): Solid {
  return { op: 'hull', parts };
}

export function affine(part: Solid, map: Affine): Solid {
  return { op: 'affine', part, map };
}

export function moved(part: Solid, x: number, y: number, z: number): Solid {
  return affine(part, [1, 0, 0, x, 0, 1, 0, y, 0, 0, 1, z]);
}

export function turnedX(part: Solid, degrees: number): Solid {
  const [c, s] = turn(degrees);
  return affine(part, [1, 0, 0, 0, 0, c, -s, 0, 0, s, c, 0]);
}

export function turnedY(part: Solid, degrees: number): Solid {
  const [c, s] = turn(degrees);
  return affine(part, [c, 0, s, 0, 0, 1, 0, 0, -s, 0, c, 0]);
}

export function turnedZ(part: Solid, degrees: number): Solid {
  const [c, s] = turn(degrees);
  return affine(part, [c, -s, 0, 0, s, c, 0, 0, 0, 0, 1, 0]);
}

/** The mirror image on the plane x = 0: the other hand. The faces still look outward. */
export function mirroredX(part: Solid): Solid {
  return affine(part, [-1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0]);
}

/** Splits triangles until no edge is longer than `edge` mm: the same solid, finer facets. */
export function refined(part: Solid, edge: number): Solid {
  return { op: 'refine', part, edge };
}

/** Cosine and sine; exact for multiples of a quarter turn. */
export function turn(degrees: number): readonly [number, number] {
  const quarter = ((degrees % 360) + 360) % 360;
  if (quarter === 0) return [1, 0];
  if (quarter === 90) return [0, 1];
  if (quarter === 180) return [-1, 0];
  if (quarter === 270) return [0, -1];
  const angle = (degrees * Math.PI) / 180;
  return [Math.cos(angle), Math.sin(angle)];
}
