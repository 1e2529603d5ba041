import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meshOf } from '../testing/builder.ts';
import {
  flipped,
  joined,
  moved,
  randomFrom,
  rotation,
  scaled,
  shuffled,
  translated,
} from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';
import {
  box,
  frustum,
  icosphere,
  prism,
  regularTetrahedron,
  tetrahedron,
  torus,
  tube,
} from '../testing/shapes.ts';
import type { Mat3, Mesh, Vec3 } from '../types.ts';
import { area } from './area.ts';
import { bounds } from './bounds.ts';
import { massProperties } from './mass-properties.ts';

function expectClose(actual: number | null | undefined, expected: number, relative: number): void {
  expect(Math.abs((actual ?? NaN) - expected), `${actual} against ${expected}`).toBeLessThanOrEqual(
    relative * Math.abs(expected),
  );
}

function solid(mesh: Mesh) {
  const { volume, centroid, inertia, principal } = massProperties(mesh);
  if (centroid === null || inertia === null || principal === null) throw new Error('no solid');
  return { volume, area: area(mesh), centroid, inertia, principal };
}

describe('massProperties against closed forms', () => {
  // Exact for the mesh itself (handbook formulas; the prism's and the grid torus's derived from the definition).
  it('box 20 × 30 × 50', () => {
    const { volume, area, centroid, inertia } = solid(box(20, 30, 50));
    expectClose(volume, 30000, 1e-14);
    expectClose(area, 6200, 1e-14);
    expect(centroid).toEqual([10, 15, 25]);
    [8500000, 7250000, 3250000].forEach((value, k) => expectClose(inertia[k][k], value, 1e-13));
  });

  it('cube of side 2: m s²/6 about every axis', () => {
    const { volume, inertia, principal } = solid(box(2, 2, 2, [-1, -1, -1]));
    expect(volume).toBe(8);
    for (let k = 0; k < 3; k++) expectClose(inertia[k][k], 16 / 3, 1e-14);
    expect(principal.axes).toEqual([
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ]);
  });

  it('corner of the unit cube: 1/80 on, 1/480 off the diagonal', () => {
    const { volume, area, centroid, inertia } = solid(tetrahedron());
    expectClose(volume, 1 / 6, 1e-14);
    expectClose(area, 1.5 + Math.sqrt(3) / 2, 1e-14);
    for (let i = 0; i < 3; i++) {
      expectClose(centroid[i], 0.25, 1e-14);
      for (let j = 0; j < 3; j++) expectClose(inertia[i][j], i === j ? 1 / 80 : 1 / 480, 1e-13);
    }
  });

  it('regular tetrahedron of edge 10: m a²/20 about every axis', () => {
    const { volume, area, inertia, principal } = solid(regularTetrahedron(10));
    expectClose(volume, 1000 / (6 * Math.SQRT2), 1e-13);
    expectClose(area, 100 * Math.sqrt(3), 1e-13);
    for (let k = 0; k < 3; k++) {
      expectClose(inertia[k][k], 589.2556509888, 1e-12);
      expectClose(principal.moments[k], 589.2556509888, 1e-12);
    }
  });

  it('prism over a regular 24-gon', () => {
    const { volume, area, inertia } = solid(prism(24, 5, 20));
    expectClose(volume, 1552.914270615, 1e-12);
    expectClose(area, 781.8171497178, 1e-12);
    expectClose(inertia[2][2], 19190.95225513, 1e-12);
    expectClose(inertia[0][0], 61359.28514807, 1e-12);
    expectClose(inertia[1][1], 61359.28514807, 1e-12);
  });

  it('torus on a 64 × 32 grid', () => {
    const { volume, area } = solid(torus(10, 3, 64, 32));
    expectClose(volume, 1762.301534515, 1e-12);
    expectClose(area, 1181.264350272, 1e-12);
  });

  it.each([
    [0, 2.53615071012, 9.574541383274, 0.7340703575846],
    [1, 3.658712208512, 11.66593139172, 1.338326640094],
    [2, 4.047044679979, 12.32984859523, 1.582169467828],
    [3, 4.152740817093, 12.50649273397, 1.651557428154],
    [4, 4.179738947995, 12.5513538801, 1.669486590619],
  ])('icosahedron split %i times', (level, expectedVolume, expectedArea, moment) => {
    const { volume, area, inertia } = solid(icosphere(1, level));
    expectClose(volume, expectedVolume, 1e-12);
    expectClose(area, expectedArea, 1e-12);
    for (let k = 0; k < 3; k++) expectClose(inertia[k][k], moment, 1e-11);
  });

  it('regular polyhedra of edge 1', () => {
    const octahedron = meshOf(
      [
        [1, 0, 0],
        [-1, 0, 0],
        [0, 1, 0],
        [0, -1, 0],
        [0, 0, 1],
        [0, 0, -1],
      ].map(p => p.map(x => x * Math.SQRT1_2)),
      [
        [0, 2, 4],
        [2, 1, 4],
        [1, 3, 4],
        [3, 0, 4],
        [2, 0, 5],
        [1, 2, 5],
        [3, 1, 5],
        [0, 3, 5],
      ],
    );
    expectClose(massProperties(octahedron).volume, Math.SQRT2 / 3, 1e-14);
    expectClose(area(octahedron), 3.464101615138, 1e-12);
    const icosahedron = icosphere(0.9510565162951535, 0);
    expectClose(massProperties(icosahedron).volume, (5 * (3 + Math.sqrt(5))) / 12, 1e-13);
    expectClose(area(icosahedron), 8.660254037844, 1e-12);
  });

  // The curved solids, by fine tessellation: the mesh stays inside the true surface, so tolerances are the chord's.
  it.each<[string, Mesh, number, number, number, number]>([
    ['cylinder r 5 h 20', prism(4096, 5, 20), 1570.796326795, 785.3981633974, 62177.3546023, 19634.95408494],
    [
      'frustum 8 → 5, h 12',
      frustum(4096, 8, 5, 12),
      1621.061809252,
      784.7733615627,
      37015.92503136,
      37250.49241214,
    ],
    [
      'cone R 6 h 15',
      frustum(4096, 6, 0, 15),
      565.4866776462,
      417.6212310656,
      7824.921901929,
      6107.256118579,
    ],
    ['pipe 10/8 × 40', tube(4096, 10, 8, 40), 4523.893421169, 4750.088092228, 788665.4197572, 370959.2605359],
    [
      'closed pipe with cavity',
      joined(prism(4096, 10, 40), flipped(translated(prism(4096, 8, 36), [0, 0, 2]))),
      5328.141140488,
      5353.273881717,
      1092134.892514,
      396695.1875541,
    ],
    ['torus 10, 3', torus(10, 3, 1024, 512), 1776.528792196, 1184.352528131, 98819.41406591, 189644.4485669],
    ['ball r 10', icosphere(10, 6), 4188.790204786, 1256.637061436, 167551.6081915, 167551.6081915],
  ])('%s', (name, mesh, expectedVolume, expectedArea, xx, zz) => {
    const relative = name.startsWith('torus') || name.startsWith('ball') ? 6e-4 : 5e-6;
    const { volume, area, inertia } = solid(mesh);
    expectClose(volume, expectedVolume, relative);
    expectClose(area, expectedArea, relative);
    expectClose(inertia[0][0], xx, relative);
    expectClose(inertia[1][1], xx, relative);
    expectClose(inertia[2][2], zz, relative);
  });

  it('frustum and cone: height of the centroid', () => {
    expectClose(solid(frustum(64, 8, 5, 12)).centroid[2], 5.093023255814, 1e-12);
    expectClose(solid(frustum(64, 6, 0, 15)).centroid[2], 3.75, 1e-12);
  });

  it('plate with a hole: closed form with the polygon in place of the circle', () => {
    const hole = (24 / 2) * 1.7 ** 2 * Math.sin((2 * Math.PI) / 24);
    const wall = 24 * 2 * 1.7 * Math.sin(Math.PI / 24) * 6;
    const mesh = plateWithHoles(40, 20, 6, [{ x: 20, y: 10, r: 1.7, sides: 24 }]);
    expectClose(massProperties(mesh).volume, 4800 - 6 * hole, 1e-13);
    expectClose(area(mesh), 2320 - 2 * hole + wall, 1e-13);
    // 4745.5247… with the true circle.
    expectClose(
      massProperties(plateWithHoles(40, 20, 6, [{ x: 20, y: 10, r: 1.7, sides: 4096 }])).volume,
      4745.524783387,
      1e-7,
    );
  });

  it('the published tetrahedron', () => {
    // F. Tonon, J. Math. Stat. 1(1):8–11, 2005, doi 10.3844/jmssp.2005.8.11; tensor in the layout its definitions give.
    const points = [
      [8.3322, -11.86875, 0.93355],
      [0.75523, 5.0, 16.37072],
      [52.61236, 5.0, -5.3858],
      [2.0, 5.0, 3.0],
    ];
    const { volume, area, centroid, inertia } = solid(
      meshOf(points, [
        [0, 2, 1],
        [0, 1, 3],
        [0, 3, 2],
        [1, 2, 3],
      ]),
    );
    [15.92492, 0.78281, 3.72962].forEach((value, k) => expect(centroid[k]).toBeCloseTo(value, 4));
    const published = [
      [43520.33257, -11996.20119, 46343.16662],
      [-11996.20119, 194711.28938, -4417.6615],
      [46343.16662, -4417.6615, 191168.76173],
    ];
    published.forEach((row, i) => row.forEach((value, j) => expectClose(inertia[i][j], value, 3e-8)));
    expectClose(volume, 1873.233364216, 1e-12);
    expectClose(area, 1458.043802284, 1e-12);
  });
});

describe('massProperties: laws', () => {
  const shapes: Mesh[] = [
    box(2, 3, 5),
    tetrahedron(),
    torus(10, 3, 12, 8),
    prism(7, 5, 20),
    plateWithHoles(40, 20, 6, [{ x: 12, y: 8, r: 3, sides: 9 }]),
  ];
  const shape = fc.constantFrom(...shapes);
  const part = fc.double({ min: -1, max: 1, noNaN: true });
  const turn = fc
    .tuple(part, part, part, part)
    .filter(q => Math.hypot(...q) > 0.1)
    .map(q => rotation(...q));
  const shift = fc.tuple(part, part, part).map(p => p.map(x => 1000 * x) as unknown as Vec3);

  it('a rigid motion carries the centroid along, turns the tensor, and changes nothing else', () => {
    fc.assert(
      fc.property(shape, turn, shift, (mesh, R, t) => {
        const before = solid(mesh);
        const after = solid(moved(mesh, R, t));
        const scale = Math.max(...before.principal.moments);
        expectClose(after.volume, before.volume, 1e-10);
        expectClose(after.area, before.area, 1e-10);
        apply(R, before.centroid).forEach((x, k) =>
          expect(Math.abs(after.centroid[k] - x - t[k])).toBeLessThan(1e-8),
        );
        turned(R, before.inertia).forEach((row, i) =>
          row.forEach((x, j) => expect(Math.abs(after.inertia[i][j] - x)).toBeLessThan(1e-9 * scale)),
        );
        after.principal.moments.forEach((x, k) => expectClose(x, before.principal.moments[k], 1e-9));
        expectPrincipal(after);
      }),
    );
  });

  it('the order of vertices, faces and corners does not matter', () => {
    fc.assert(
      fc.property(shape, fc.integer(), (mesh, seed) => {
        const before = solid(mesh);
        const after = solid(shuffled(mesh, randomFrom(seed)));
        expectClose(after.volume, before.volume, 1e-12);
        after.inertia.forEach((row, i) => expectClose(row[i], before.inertia[i][i], 1e-12));
      }),
    );
  });

  it('scaling by s multiplies area, volume and inertia by s², s³ and s⁵', () => {
    fc.assert(
      fc.property(shape, fc.double({ min: 1e-3, max: 1e3, noNaN: true }), (mesh, s) => {
        const [before, after] = [solid(mesh), solid(scaled(mesh, s))];
        expectClose(after.area, before.area * s ** 2, 1e-12);
        expectClose(after.volume, before.volume * s ** 3, 1e-12);
        after.principal.moments.forEach((x, k) =>
          expectClose(x, before.principal.moments[k] * s ** 5, 1e-11),
        );
      }),
    );
  });

  it('a reflection or turning inside out flips the sign of the volume and leaves the moments', () => {
    for (const mesh of shapes) {
      const before = solid(mesh);
      for (const after of [solid(scaled(mesh, -1, 1, 1)), solid(flipped(mesh))]) {
        expectClose(after.volume, -before.volume, 1e-13);
        after.principal.moments.forEach((x, k) => expectClose(x, before.principal.moments[k], 1e-12));
      }
    }
  });

  it('parallel axes: two boxes side by side are one box', () => {
    const [whole, halves] = [solid(box(2, 3, 5)), solid(joined(box(1, 3, 5), box(1, 3, 5, [1, 0, 0])))];
    expectClose(halves.volume, whole.volume, 1e-14);
    for (let k = 0; k < 3; k++) expectClose(halves.inertia[k][k], whole.inertia[k][k], 1e-13);
  });

  it('has no centroid without volume, and no bounds without faces', () => {
    const sheet = meshOf(
      [
        [0.1, 0.2, 0.3],
        [1.7, 0.1, 0.4],
        [0.3, 2.2, 0.9],
      ],
      [
        [0, 1, 2],
        [0, 2, 1],
      ],
    );
    expect(massProperties(sheet)).toMatchObject({ centroid: null, inertia: null, principal: null });
    const nothing = meshOf([[1, 2, 3]], []);
    expect(massProperties(nothing)).toEqual({ volume: 0, centroid: null, inertia: null, principal: null });
    expect(bounds(nothing)).toBeNull();
    expect(area(nothing)).toBe(0);
  });

  it('keeps its digits far from the origin', () => {
    const far = solid(translated(box(1, 2, 3), [2 ** 20, -(2 ** 20), 2 ** 20]));
    expect(far.volume).toBe(6);
    expectClose(far.inertia[0][0], (6 * (4 + 9)) / 12, 1e-13);
  });
});

describe('bounds', () => {
  it('leaves out vertices that no face uses', () => {
    const mesh = meshOf(
      [
        [0, 0, 0],
        [9, 9, 9],
        [1, 0, 0],
        [0, 2, -3],
      ],
      [[0, 2, 3]],
    );
    expect(bounds(mesh)).toEqual({ min: [0, 0, -3], max: [1, 2, 0] });
  });
});

function apply(R: Mat3, p: Vec3): Vec3 {
  return R.map(row => row[0] * p[0] + row[1] * p[1] + row[2] * p[2]) as unknown as Vec3;
}

/** R I Rᵀ. */
function turned(R: Mat3, I: Mat3): number[][] {
  return [0, 1, 2].map(i =>
    [0, 1, 2].map(j => {
      let sum = 0;
      for (let k = 0; k < 3; k++) for (let l = 0; l < 3; l++) sum += R[i][k] * I[k][l] * R[j][l];
      return sum;
    }),
  );
}

/** The axes are orthonormal and right-handed, and the tensor times an axis is its moment times the axis. */
function expectPrincipal({ inertia, principal }: ReturnType<typeof solid>): void {
  const { moments, axes } = principal;
  expect([...moments].sort((a, b) => a - b)).toEqual([...moments]);
  expect(moments[0] + moments[1]).toBeGreaterThanOrEqual(moments[2] * (1 - 1e-9));
  axes.forEach((axis, k) => {
    apply(inertia, axis).forEach((x, i) =>
      expect(Math.abs(x - moments[k] * axis[i])).toBeLessThan(1e-10 * moments[2]),
    );
    axes.forEach((other, l) => {
      const dot = axis[0] * other[0] + axis[1] * other[1] + axis[2] * other[2];
      expect(Math.abs(dot - (k === l ? 1 : 0))).toBeLessThan(1e-12);
    });
  });
  const [a, b, c] = axes;
  expect(
    a[0] * (b[1] * c[2] - b[2] * c[1]) +
      a[1] * (b[2] * c[0] - b[0] * c[2]) +
      a[2] * (b[0] * c[1] - b[1] * c[0]),
  ).toBeCloseTo(1, 10);
}
