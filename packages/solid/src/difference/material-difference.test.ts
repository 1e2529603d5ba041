import type { Mesh } from '@kinprint/mesh';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadKernel, type Kernel } from '../kernel.ts';
import { intersectionVolume, subtract, union, volumeOf } from '../solids.ts';
import { ballMesh, boxMesh, insideOut, mapped, prismMesh, ringPoints, together } from '../testing/shapes.ts';
import { materialDifference } from './material-difference.ts';
import type { MaterialDifference } from './types.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const tolerance_mm = 1e-3;

function differ(before: Mesh, after: Mesh, method: 'auto' | 'whole' = 'auto'): MaterialDifference {
  return materialDifference(kernel, before, after, { tolerance_mm, method });
}

function near(actual: number | null, expected: number, relative = 1e-6): void {
  expect(actual).not.toBeNull();
  expect(Math.abs((actual ?? NaN) - expected)).toBeLessThanOrEqual(relative * Math.abs(expected) + 1e-12);
}

function single({ positions, triangles }: Mesh): Mesh {
  return { positions: Float32Array.from(positions), triangles };
}

/** A plate 40 × 30 × 5 with a round bore of n sides in the middle. */
function boredPlate(diameter: number, n = 32, center: readonly [number, number] = [0, 0]): Mesh {
  const plate = boxMesh([-20, -15, 0], [20, 15, 5]);
  return subtract(kernel, plate, prismMesh(ringPoints(n, diameter / 2, center), -1, 6));
}

describe('closed forms', () => {
  it('shifted boxes: abc − (a−dx)(b−dy)(c−dz) both ways', () => {
    const found = differ(boxMesh([0, 0, 0], [20, 30, 50]), boxMesh([1, 2, 3], [21, 32, 53]));
    near(found.added_mm3, 4996);
    near(found.removed_mm3, 4996);
    expect(found.regions.map(region => region.kind).sort()).toEqual(['added', 'removed']);
  });

  it('square prism turned by 45°: half the symmetric difference, in four corners each way', () => {
    const a = prismMesh(ringPoints(4, Math.SQRT1_2), 0, 1);
    const found = differ(a, prismMesh(ringPoints(4, Math.SQRT1_2, [0, 0], Math.PI / 4), 0, 1));
    near(found.added_mm3, 0.3431457505076 / 2);
    near(found.removed_mm3, 0.3431457505076 / 2);
    expect(found.regions).toHaveLength(8);
  });

  it('two balls 1 apart: the symmetric difference of the true balls within the chord error', () => {
    const found = differ(ballMesh(10, 48, 96), ballMesh(10, 48, 96, [1, 0, 0]));
    // 2·(4π/3·10³) − 2·lens, lens by two caps.
    near((found.added_mm3 ?? 0) + (found.removed_mm3 ?? 0), 627.7949319424, 4e-3);
  });

  it('reamed bore 3.0 → 3.2 of 32 sides: (n/8) sin(2π/n)(d2² − d1²) L removed, nothing added', () => {
    const found = differ(boredPlate(3), boredPlate(3.2));
    near(found.removed_mm3, 4.838239986, 2e-6);
    expect(found.added_mm3).toBe(0);
    expect(found.regions).toHaveLength(1);
    expect(found.regions[0].bounds_mm.max[2]).toBeCloseTo(5, 5);
    found.regions[0].centroid_mm.forEach((x, k) => expect(x).toBeCloseTo([0, 0, 2.5][k], 5));
  });

  it('boss on a face: w²k added, one region, where it stands', () => {
    const plate = boredPlate(3);
    const found = differ(plate, union(kernel, [plate, boxMesh([10, 5, 4], [12, 7, 7])]));
    near(found.added_mm3, 8);
    expect(found.removed_mm3).toBe(0);
    found.regions[0].centroid_mm.forEach((x, k) => expect(x).toBeCloseTo([11, 6, 6][k], 5));
    near(volumeOf(kernel, found.regions[0].mesh), 8);
  });
});

describe('method', () => {
  // In single precision, as files hold them: then neither way loses digits on crossing into the kernel.
  const ball = single(ballMesh(20, 60, 120));
  /** A dent near the top and a bump near the side: both local, far apart. */
  const edited = single(
    mapped(ball, ([x, y, z]) => {
      const dent = 1 - 0.05 * Math.max(0, 1 - Math.hypot(x, y) / 4) ** 2 * (z > 0 ? 1 : 0);
      const bump = 1 + 0.08 * Math.max(0, 1 - Math.hypot(y, z) / 4) ** 2 * (x > 0 ? 1 : 0);
      return [x * dent * bump, y * dent * bump, z * dent * bump];
    }),
  );

  it('nothing changed: no booleans, in any order of vertices and faces', () => {
    const turned = Uint32Array.from({ length: ball.triangles.length }, (_, i) => {
      const face = ball.triangles.length / 3 - 1 - Math.floor(i / 3);
      return ball.triangles[3 * face + ((i + 1) % 3)];
    });
    const found = differ(ball, { positions: ball.positions, triangles: turned });
    expect(found).toMatchObject({
      method: 'none',
      added_mm3: 0,
      removed_mm3: 0,
      regions: [],
      slivers_mm3: 0,
    });
  });

  it('local edits: cut out, with the same answer as over everything', () => {
    const local = differ(ball, edited);
    const whole = differ(ball, edited, 'whole');
    expect([local.method, whole.method]).toEqual(['local', 'whole']);
    expect(local.regions.map(region => region.kind)).toEqual(['added', 'removed']);
    near(local.added_mm3, whole.added_mm3 ?? NaN);
    near(local.removed_mm3, whole.removed_mm3 ?? NaN);
    near(local.unattributed_mm3, whole.unattributed_mm3 ?? NaN, 1e-2);
  });

  it('B→A swaps added and removed exactly', () => {
    const there = differ(ball, edited);
    const back = differ(edited, ball);
    expect([back.added_mm3, back.removed_mm3]).toEqual([there.removed_mm3, there.added_mm3]);
    expect(back.method).toBe('local');
  });

  it('leaves out what lies within the tolerance, and says how much volume that was', () => {
    const grown = mapped(edited, ([x, y, z]) => {
      const factor = z < -10 ? 1 + 2e-5 : 1;
      return [x * factor, y * factor, z * factor];
    });
    const found = differ(ball, grown);
    near(found.added_mm3, differ(ball, edited).added_mm3 ?? NaN, 1e-5);
    // A cap from z = −10 down, 2πr·h·(0.4 µm), within the step at its rim.
    near(found.unattributed_mm3, 2 * Math.PI * 20 * 10 * 4e-4, 0.1);
    expect(found.notes.map(({ code }) => code)).toEqual(['material-within-tolerance']);
    expect(differ(ball, edited).notes).toEqual([]);
  });

  it('flags keep re-tessellated surfaces out of the booleans', () => {
    const plain = ballMesh(20, 61, 122);
    const changedBefore = new Uint8Array(ball.triangles.length / 3);
    const changedAfter = new Uint8Array(plain.triangles.length / 3);
    const options = { tolerance_mm: 0.1, changedBefore, changedAfter };
    expect(materialDifference(kernel, ball, plain, options)).toMatchObject({ method: 'none', added_mm3: 0 });
    const bump = mapped(plain, ([x, y, z]) => {
      const out = 1 + 0.1 * Math.max(0, 1 - Math.hypot(y, z) / 4) ** 2 * (x > 0 ? 1 : 0);
      return [x * out, y * out, z * out];
    });
    const nearTop = (mesh: Mesh, flags: Uint8Array): void => {
      flags.forEach((_, f) => {
        const v = 3 * mesh.triangles[3 * f];
        flags[f] =
          mesh.positions[v] > 0 && Math.hypot(mesh.positions[v + 1], mesh.positions[v + 2]) < 5 ? 1 : 0;
      });
    };
    nearTop(ball, changedBefore);
    nearTop(plain, changedAfter);
    const found = materialDifference(kernel, ball, bump, options);
    expect(found.method).toBe('local');
    const truth = differ(plain, bump).added_mm3 ?? NaN;
    near(found.added_mm3, truth, 0.02);
  });
});

describe('laws', () => {
  /** Random tools on a ball of about 1 000 faces: where, how large, added or taken away. */
  const tool = fc.record({
    turn: fc.double({ min: 0, max: 6.28, noNaN: true }),
    z: fc.double({ min: -6, max: 6, noNaN: true }),
    size: fc.double({ min: 0.5, max: 2.5, noNaN: true }),
    add: fc.boolean(),
  });

  it('random edits: local equals whole, inclusion–exclusion holds, and both ways agree', () => {
    const ball = single(ballMesh(10, 17, 34));
    const ballVolume = volumeOf(kernel, ball);
    let locals = 0;
    fc.assert(
      fc.property(fc.array(tool, { minLength: 1, maxLength: 3 }), tools => {
        let edited = ball;
        for (const { turn, z, size, add } of tools) {
          const c = [9 * Math.cos(turn), 9 * Math.sin(turn), z] as const;
          const shape = prismMesh(ringPoints(7, size, [c[0], c[1]]), z - size, z + size);
          edited = add ? union(kernel, [edited, shape]) : subtract(kernel, edited, shape);
        }
        const local = differ(ball, edited);
        const whole = differ(ball, edited, 'whole');
        if (local.method === 'local') locals++;
        const scale = (whole.added_mm3 ?? NaN) + (whole.removed_mm3 ?? NaN);
        expect(Math.abs((local.added_mm3 ?? NaN) - (whole.added_mm3 ?? NaN))).toBeLessThanOrEqual(
          1e-6 * scale + 1e-6,
        );
        expect(Math.abs((local.removed_mm3 ?? NaN) - (whole.removed_mm3 ?? NaN))).toBeLessThanOrEqual(
          1e-6 * scale + 1e-6,
        );
        const common = intersectionVolume(kernel, ball, edited);
        expect(Math.abs((local.removed_mm3 ?? NaN) - (ballVolume - common))).toBeLessThan(2e-3);
        const back = differ(edited, ball);
        expect([back.added_mm3, back.removed_mm3]).toEqual([local.removed_mm3, local.added_mm3]);
      }),
      { numRuns: 20 },
    );
    expect(locals).toBeGreaterThan(10);
  }, 120_000);

  it('edits of a thin hollow ball: cut out of coarse surroundings, whose sheets cross, as over everything', () => {
    const hollow = single(together(ballMesh(20, 40, 80), insideOut(ballMesh(19.6, 41, 83))));
    const place = fc.record({
      turn: fc.integer({ min: 0, max: 628 }).map(n => n / 100),
      z: fc.integer({ min: -15, max: 15 }),
      radius: fc.integer({ min: 4, max: 24 }).map(n => n / 10),
    });
    let locals = 0;
    fc.assert(
      fc.property(place, place, (bore, stud) => {
        const at = (p: typeof bore, height: number): Mesh => {
          const out = Math.sqrt(400 - p.z * p.z);
          const center = [out * Math.cos(p.turn), out * Math.sin(p.turn)] as const;
          return prismMesh(ringPoints(12, p.radius, center), p.z - height, p.z + height);
        };
        const bored = subtract(kernel, hollow, at(bore, 4));
        const edited = single(union(kernel, [bored, at(stud, 3)]));
        const local = differ(hollow, edited);
        const whole = differ(hollow, edited, 'whole');
        if (local.method === 'local') locals++;
        near(local.added_mm3, whole.added_mm3 ?? NaN, 2e-6);
        near(local.removed_mm3, whole.removed_mm3 ?? NaN, 2e-6);
        expect(local.regions.map(region => region.kind).sort()).toEqual(
          whole.regions.map(region => region.kind).sort(),
        );
      }),
      { numRuns: 6 },
    );
    expect(locals).toBeGreaterThan(3);
  }, 120_000);

  it('moving far off, or changing the size of everything, changes the volumes as theory says', () => {
    const a = boredPlate(3);
    const b = boredPlate(3.2);
    for (const [size, shift] of [
      [1, 1000],
      [1e-3, 0],
      [100, 0],
    ]) {
      const place = (mesh: Mesh): Mesh =>
        mapped(mesh, ([x, y, z]) => [size * x + shift, size * y - shift, size * z + shift]);
      const found = materialDifference(kernel, place(a), place(b), { tolerance_mm: tolerance_mm * size });
      near(found.removed_mm3, 4.838239986 * size ** 3, 5e-6);
      expect(found.added_mm3).toBe(0);
    }
  });
});

describe('awkward input', () => {
  const ball = ballMesh(5, 20, 40);

  it('an open mesh has no material, and a note says why', () => {
    const open = { positions: ball.positions, triangles: ball.triangles.slice(3) };
    const found = differ(ball, open);
    expect(found).toMatchObject({ added_mm3: null, removed_mm3: null, unattributed_mm3: null, regions: [] });
    expect(found.notes.map(note => note.code)).toEqual(['no-material-open', 'no-material-open']);
    expect(found.notes[0].text).toMatch(/^AFTER enclosed no volume/);
  });

  it('a mesh without faces is an empty solid: everything is added', () => {
    const found = differ({ positions: new Float64Array(0), triangles: new Uint32Array(0) }, ball);
    near(found.added_mm3, volumeOf(kernel, ball));
    expect(found.removed_mm3).toBe(0);
  });

  it('inside-out meshes are turned and named', () => {
    const found = differ(insideOut(ball), union(kernel, [ball, boxMesh([4, -1, -1], [7, 1, 1])]));
    expect(found.notes.map(note => note.code)).toContain('inside-out');
    expect(found.removed_mm3).toBe(0);
    expect(found.regions).toHaveLength(1);
  });

  it('a cavity that appears is one removed region; a hollow region keeps its hollow', () => {
    const hollow = together(ball, insideOut(ballMesh(2, 12, 24)));
    near(differ(ball, hollow).removed_mm3, volumeOf(kernel, ballMesh(2, 12, 24)));
    const smaller = together(ball, insideOut(ballMesh(1, 12, 24)));
    const filled = differ(hollow, smaller);
    expect(filled.regions).toHaveLength(1);
    near(filled.added_mm3, volumeOf(kernel, ballMesh(2, 12, 24)) - volumeOf(kernel, ballMesh(1, 12, 24)));
  });

  it('overlapping shells count once, also where they are cut', () => {
    const bar = boxMesh([-20, -1, -1], [20, 1, 1]);
    const both = together(ball, bar);
    const taller = together(ball, boxMesh([-20, -1, -1], [22, 1, 1]));
    const found = differ(both, taller);
    near(found.added_mm3, 8);
    expect(found.removed_mm3).toBe(0);
    expect(found.unattributed_mm3).toBeNull();
    expect(found.notes.map(note => note.code)).toContain('shells-may-overlap');
  });

  it('two pieces that meet in an edge only are two regions', () => {
    const a = boxMesh([0, 0, 0], [10, 10, 1]);
    const b = union(kernel, [a, boxMesh([1, 1, 1], [2, 2, 2]), boxMesh([2, 2, 1], [3, 3, 2])]);
    const found = differ(a, b);
    near(found.added_mm3, 2);
    expect(found.regions).toHaveLength(2);
  });

  it('numbers that are none are refused, not counted', () => {
    const broken = mapped(ball, ([x, y, z]) => (z > 4 ? [NaN, y, z] : [x, y, z]));
    const found = differ(ball, broken);
    expect(found).toMatchObject({ added_mm3: null, removed_mm3: null, regions: [] });
    expect(found.notes[0].code).toBe('no-material-refused');
  });

  it('any closed surface, crossing itself as it likes: figures that explain the volumes, or none', () => {
    const corner = fc.tuple(...[0, 1, 2].map(() => fc.integer({ min: -8, max: 8 })));
    const tangle = fc.array(corner, { minLength: 12, maxLength: 12 }).map(points => {
      const { triangles } = ballMesh(1, 3, 5);
      return { positions: Float64Array.from(points.flat()), triangles };
    });
    let given = 0;
    fc.assert(
      fc.property(tangle, tangle, (a, b) => {
        const found = differ(a, b);
        if (found.added_mm3 === null) {
          expect(found.notes.length).toBeGreaterThan(0);
          expect(found.removed_mm3).toBeNull();
          return;
        }
        given++;
        const sum = (kind: string): number =>
          found.regions.reduce((total, region) => total + (region.kind === kind ? region.volume_mm3 : 0), 0);
        near(found.added_mm3, sum('added'), 1e-12);
        near(found.removed_mm3, sum('removed'), 1e-12);
        expect(Math.abs(found.unattributed_mm3 ?? NaN)).toBeLessThan(tolerance_mm * 4000);
      }),
      { numRuns: 60 },
    );
    expect(given).toBeGreaterThan(0);
  }, 120_000);
});
