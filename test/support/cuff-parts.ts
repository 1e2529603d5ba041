import type { Mesh } from '@kinprint/mesh';
import { loadKernel, withSolids } from '@kinprint/solid';

const kernel = loadKernel();

/**
 * The clip of a utensil cuff: a plate of 60 × 40 × 8 mm from the origin with a bore along z, and what the options put on
 * it or cut off.
 */
export async function clip(options: {
  readonly bore_mm: number;
  /** A block of 10 × 10 mm on top, from x = 40, y = 20, so high. */
  readonly block_mm?: number;
  /** A slot as wide along x, through the plate from the front, 12 mm deep, from x = 6. */
  readonly slot_mm?: number;
}): Promise<Mesh> {
  const { Manifold } = (await kernel).api;
  return withSolids(keep => {
    let solid = keep(Manifold.cube([60, 40, 8]));
    const bore = keep(Manifold.cylinder(40, options.bore_mm / 2, options.bore_mm / 2, 64, true));
    solid = keep(solid.subtract(keep(bore.translate([20, 24, 0]))));
    if (options.block_mm !== undefined) {
      const block = keep(Manifold.cube([10, 10, options.block_mm + 1]));
      solid = keep(solid.add(keep(block.translate([40, 20, 7]))));
    }
    if (options.slot_mm !== undefined) {
      const slot = keep(Manifold.cube([options.slot_mm, 24, 40], true));
      solid = keep(solid.subtract(keep(slot.translate([6 + options.slot_mm / 2, 0, 0]))));
    }
    const { vertProperties, triVerts, numProp } = solid.getMesh();
    const positions = new Float64Array((vertProperties.length / numProp) * 3);
    for (let k = 0; k < positions.length; k++)
      positions[k] = vertProperties[Math.floor(k / 3) * numProp + (k % 3)];
    return { positions, triangles: Uint32Array.from(triVerts) };
  });
}

/** A curved shell: half a ring about x, `wide` mm along it, with round edges of facets. */
export async function shell(inner_mm: number, wall_mm: number, wide_mm: number): Promise<Mesh> {
  const { Manifold } = (await kernel).api;
  return withSolids(keep => {
    const outer = keep(Manifold.cylinder(wide_mm, inner_mm + wall_mm, inner_mm + wall_mm, 96));
    const inner = keep(Manifold.cylinder(3 * wide_mm, inner_mm, inner_mm, 96, true));
    const half = keep(keep(Manifold.cube([400, 200, 400], true)).translate([0, -100, 0]));
    const solid = keep(keep(outer.subtract(inner)).subtract(half));
    const { vertProperties, triVerts } = solid.getMesh();
    return { positions: Float64Array.from(vertProperties), triangles: Uint32Array.from(triVerts) };
  });
}
