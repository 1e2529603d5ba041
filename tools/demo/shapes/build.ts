import type { Mesh } from '@kinprint/mesh';
import type { Kernel, KernelSolid } from '@kinprint/solid';
import type { Affine, Solid } from './solid.ts';

/**
 * The triangles of a described solid, as an exporter would write them: 32-bit coordinates, closed, faces outward,
 * and a triangulation of planar faces that depends on everything cut into them.
 */
export function buildMesh(kernel: Kernel, solid: Solid): Mesh {
  const built = evaluate(kernel, solid);
  try {
    const { vertProperties, triVerts, numProp } = built.getMesh();
    const count = vertProperties.length / numProp;
    const positions = new Float32Array(3 * count);
    for (let v = 0; v < count; v++) {
      for (let k = 0; k < 3; k++) positions[3 * v + k] = vertProperties[numProp * v + k] + 0;
    }
    return { positions, triangles: Uint32Array.from(triVerts) };
  } finally {
    built.delete();
  }
}

/** The caller frees the result. */
function evaluate(kernel: Kernel, solid: Solid): KernelSolid {
  const { Manifold } = kernel.api;
  switch (solid.op) {
    case 'box':
      return Manifold.cube([...solid.size]);
    case 'cylinder':
      return Manifold.cylinder(solid.height, solid.radiusLow, solid.radiusHigh, solid.segments);
    case 'ball':
      return Manifold.sphere(solid.radius, solid.segments);
    case 'extrusion':
      return Manifold.extrude([solid.outline.map(([x, y]) => [x, y])], solid.height);
    case 'mesh':
      return Manifold.ofMesh(
        new kernel.api.Mesh({
          numProp: 3,
          vertProperties: Float32Array.from(solid.mesh.positions),
          triVerts: Uint32Array.from(solid.mesh.triangles),
        }),
      );
    case 'affine':
      return once(evaluate(kernel, solid.part), part => part.transform(columns(solid.map)));
    case 'refine':
      return once(evaluate(kernel, solid.part), part => part.refineToLength(solid.edge));
    case 'union':
    case 'difference':
    case 'intersection':
    case 'hull': {
      const parts: KernelSolid[] = [];
      try {
        for (const part of solid.parts) parts.push(evaluate(kernel, part));
        return Manifold[solid.op](parts);
      } finally {
        for (const part of parts) part.delete();
      }
    }
  }
}

function once(part: KernelSolid, change: (part: KernelSolid) => KernelSolid): KernelSolid {
  try {
    return change(part);
  } finally {
    part.delete();
  }
}

type Columns = Parameters<KernelSolid['transform']>[0];

function columns([a, b, c, x, d, e, f, y, g, h, i, z]: Affine): Columns {
  return [a, d, g, 0, b, e, h, 0, c, f, i, 0, x, y, z, 1];
}
