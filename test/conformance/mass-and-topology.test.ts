// Our volume, area and genus against manifold-3d's, on solids that it makes and on solids of our own.
import { massProperties, measureCore, subMesh, bodies, topology, type Mesh } from '@kinprint/mesh';
import ManifoldModule, { type Manifold } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';

type Kernel = Awaited<ReturnType<typeof ManifoldModule>>;
let kernel: Kernel;

beforeAll(async () => {
  kernel = await ManifoldModule();
  kernel.setup();
});

/** The solid as one of our meshes, and again as the solid of exactly these 32-bit coordinates. */
function exchanged(solid: Manifold): { mesh: Mesh; judge: Manifold } {
  const out = solid.getMesh();
  const positions = new Float32Array(3 * out.numVert);
  for (let v = 0; v < out.numVert; v++) {
    for (let k = 0; k < 3; k++) positions[3 * v + k] = out.vertProperties[v * out.numProp + k];
  }
  return { mesh: { positions, triangles: Uint32Array.from(out.triVerts) }, judge: new kernel.Manifold(out) };
}

/** Solids by name, made when the kernel is there. */
const solids: Record<string, (k: Kernel) => Manifold> = {
  'a cube': ({ Manifold: M }) => M.cube([20, 30, 50]),
  'a ball': ({ Manifold: M }) => M.sphere(10, 96),
  'a block with three crossing bores': ({ Manifold: M }) => {
    const bore = M.cylinder(60, 3, 3, 48, true);
    return M.cube([30, 30, 30], true)
      .subtract(bore)
      .subtract(bore.rotate([90, 0, 0]))
      .subtract(bore.rotate([0, 90, 0]));
  },
  'a plate with twelve bores': ({ Manifold: M }) => {
    let plate = M.cube([80, 60, 4]);
    for (let i = 0; i < 12; i++)
      plate = plate.subtract(
        M.cylinder(10, 2, 2, 24).translate([10 + 20 * (i % 4), 10 + 20 * Math.floor(i / 4), -3]),
      );
    return plate;
  },
  'a hollow ball with a core': ({ Manifold: M }) =>
    M.sphere(10, 64).subtract(M.sphere(8, 48)).add(M.sphere(3, 32)),
  'a chain of tilted blocks': ({ Manifold: M }) =>
    M.union(
      [0, 1, 2, 3, 4].map(i =>
        M.cube([10, 8, 6], true)
          .rotate([13 * i, 29 * i, 7])
          .translate([6 * i, i, 0]),
      ),
    ),
};

describe('against manifold-3d', () => {
  it.each(Object.keys(solids))('%s', name => {
    const { mesh, judge } = exchanged(solids[name](kernel));
    const core = measureCore(mesh);
    expect(core.soundness).toMatchObject({ watertight: true, inverted_shells: 0, duplicate_faces: 0 });
    // Both sum in double precision, in different orders.
    expect(Math.abs((core.volume_mm3 ?? NaN) / judge.volume() - 1)).toBeLessThan(1e-10);
    expect(Math.abs(core.area_mm2 / judge.surfaceArea() - 1)).toBeLessThan(1e-10);
    expect(core.triangles).toBe(judge.numTri());
    expect(topology(mesh).pairs.edges).toBe(judge.numEdge());
    const box = judge.boundingBox();
    expect(core.bounds_mm?.min).toEqual([...box.min]);
    expect(core.bounds_mm?.max).toEqual([...box.max]);
    // manifold-3d gives 1 − chi / 2, that of one shell; per shell the handles add up.
    const parts = judge.decompose();
    expect(core.shells).toBe(parts.length);
    expect(core.genus).toBe(parts.reduce((sum, part) => sum + part.genus(), 0));
  });

  it('splits a hollow ball with a core into its two bodies', () => {
    const { mesh } = exchanged(solids['a hollow ball with a core'](kernel));
    const volumes = bodies(mesh).map(faces => massProperties(subMesh(mesh, faces)).volume);
    const [core, shell] = volumes.sort((a, b) => a - b);
    expect(core).toBeCloseTo(kernel.Manifold.sphere(3, 32).volume(), 3);
    expect(shell).toBeCloseTo(
      kernel.Manifold.sphere(10, 64).subtract(kernel.Manifold.sphere(8, 48)).volume(),
      3,
    );
  });
});
