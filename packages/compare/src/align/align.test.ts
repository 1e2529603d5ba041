import type { Mesh } from '@kinprint/mesh';
import { loadKernel, type Kernel } from '@kinprint/solid';
import { beforeAll, describe, expect, it } from 'vitest';
import { align } from './align.ts';
import {
  ball,
  box,
  exported,
  mapOf,
  plate,
  reordered,
  turnedRound,
  washer,
  withoutFaces,
  type Motion,
  type PlateDesign,
} from './testing/parts.ts';

const tolerance_mm = 1e-3;
const moved: Motion = { turn: [0.4, -1.1, 0.7], shift: [35, -12, 60] };
const design: PlateDesign = {
  size: [60, 30, 4],
  bores: [
    [10, 8, 1.6],
    [45, 20, 2.5],
  ],
  bosses: [[25, 12, 4, 8]],
  cuts: [],
  sides: 32,
};

let kernel: Kernel;
let part: Mesh;
beforeAll(async () => {
  kernel = await loadKernel();
  part = plate(kernel, design);
});

/** Largest distance, over the vertices, between where the alignment and the true map bring BEFORE. */
function error(before: Mesh, found: ReturnType<typeof align>, motion: Motion): number {
  const m = found.alignment.matrix.slice(0, 3).flat();
  const truth = mapOf(motion);
  const p = before.positions;
  let worst = 0;
  for (let k = 0; k < p.length; k += 3) {
    for (let r = 0; r < 12; r += 4) {
      const d = [0, 1, 2].reduce((s, c) => s + (m[r + c] - truth[r + c]) * p[k + c], m[r + 3] - truth[r + 3]);
      worst = Math.max(worst, Math.abs(d));
    }
  }
  return worst;
}

describe('the whole shape again', () => {
  it('faces, vertices and corners in another order', () => {
    const found = align(part, reordered(part, 5), { tolerance_mm });
    expect(found).toMatchObject({
      exact: true,
      sameTriangles: true,
      alignment: { kind: 'identity', matched: 1 },
    });
  });
  it('moved, rounded to 32-bit floats', () => {
    const found = align(part, exported(part, moved), { tolerance_mm });
    expect(found).toMatchObject({
      exact: true,
      alignment: { kind: 'rigid', mirrored: false, scale: [1, 1, 1] },
    });
    expect(error(part, found, moved)).toBeLessThan(1e-5);
  });
  it('mirrored and moved', () => {
    const motion = { ...moved, mirror: true };
    const found = align(part, exported(part, motion), { tolerance_mm });
    expect(found).toMatchObject({ exact: true, alignment: { kind: 'mirrored', mirrored: true } });
    expect(found.notes.map(n => n.code)).toEqual(['mirrored-across']);
    expect(error(part, found, motion)).toBeLessThan(1e-5);
  });
  it('a twin by negative scale comes inside out, and that is said', () => {
    const twin = exported(part, { mirror: true });
    const insideOut = { positions: twin.positions, triangles: turnedRound(twin.triangles) };
    const found = align(part, insideOut, { tolerance_mm });
    expect(found).toMatchObject({ exact: true, alignment: { kind: 'mirrored', rotation_deg: 0 } });
    expect(found.notes.map(n => n.code)).toContain('inside-out');
  });
  it.each([1.12, 1.2, 0.5])('scaled by %f and moved', scale => {
    const motion = { ...moved, scale };
    const found = align(part, exported(part, motion), { tolerance_mm });
    expect(found).toMatchObject({
      exact: true,
      alignment: { kind: 'uniform-scale', scale: [scale, scale, scale] },
    });
    expect(error(part, found, motion)).toBeLessThan(1e-4);
  });
  it.each([25.4, 10, 1000])('a factor of %f is a unit', scale => {
    const found = align(part, exported(part, { scale }), { tolerance_mm: tolerance_mm * scale });
    expect(found).toMatchObject({
      exact: true,
      alignment: { kind: 'uniform-scale', scale: [scale, scale, scale] },
    });
    expect(found.notes.map(n => n.code)).toContain('unit-factor');
    const back = align(exported(part, { scale }), part, { tolerance_mm });
    expect(back.alignment.scale[0]).toBeCloseTo(1 / scale, 9);
    expect(back.notes.map(n => n.code)).toContain('unit-factor');
  });
  it('stretched along one axis', () => {
    const longer = { ...part, positions: part.positions.map((v, k) => (k % 3 === 2 ? 1.1 * v : v)) };
    const found = align(part, longer, { tolerance_mm });
    expect(found).toMatchObject({ exact: true, alignment: { kind: 'axis-scale' } });
    expect(found.alignment.scale[2]).toBeCloseTo(1.1, 9);
    expect(found.alignment.scale[0]).toBeCloseTo(1, 9);
  });
  it('another tessellation, within the tolerance given', () => {
    const finer = exported(plate(kernel, { ...design, sides: 44 }), moved);
    expect(align(part, finer, { tolerance_mm: 0.05 })).toMatchObject({
      exact: true,
      alignment: { kind: 'rigid' },
    });
    const strict = align(part, finer, { tolerance_mm });
    expect(strict.exact).toBe(false);
    expect(error(part, strict, moved)).toBeLessThan(1e-4);
  });
});

describe('moved and reworked', () => {
  const reworks: [string, Partial<PlateDesign>][] = [
    ['a bore narrowed', { bores: [[10, 8, 1.5], design.bores[1]] }],
    ['the boss shifted by 2 mm', { bosses: [[27, 12, 4, 8]] }],
    ['a boss added', { bosses: [design.bosses[0], [50, 7, 2, 12]] }],
    ['a wall cut away', { cuts: [{ from: [40, -1, -1], to: [70, 12, 20] }] }],
    ['more than half cut away', { cuts: [{ from: [28, -1, -1], to: [70, 40, 40] }] }],
  ];
  const motions: [string, Motion][] = [
    ['moved', moved],
    ['mirrored', { ...moved, mirror: true }],
    ['scaled by 1.12', { ...moved, scale: 1.12 }],
  ];
  for (const [what, change] of reworks) {
    for (const [how, motion] of motions) {
      for (const sides of [32, 44]) {
        it(`${what}, ${how}, ${sides} sides`, () => {
          const after = exported(plate(kernel, { ...design, ...change, sides }), motion);
          const found = align(part, after, { tolerance_mm });
          expect(found.exact).toBe(false);
          expect(found.alignment.kind).toBe(
            motion.scale !== undefined ? 'uniform-scale' : motion.mirror === true ? 'mirrored' : 'rigid',
          );
          expect(error(part, found, motion)).toBeLessThan(2e-3);
        });
      }
    }
  }
  it('a shape without flat patches, tessellated anew, dented', () => {
    const pebble = ball({ rings: 40, bumps: true });
    const dented = exported(ball({ rings: 55, bumps: true, dent: true, turn: 0.3 }), moved);
    const found = align(pebble, dented, { tolerance_mm });
    expect(found.alignment.kind).toBe('rigid');
    // The facets of the coarser one lie up to 0.03 mm inside the surface.
    expect(error(pebble, found, moved)).toBeLessThan(0.03);
  });
  it('a size variant is no rescale', () => {
    const longer = plate(kernel, { ...design, size: [72, 30, 4] });
    const found = align(part, exported(longer, moved), { tolerance_mm });
    expect(found.alignment).toMatchObject({ kind: 'rigid', scale: [1, 1, 1] });
    expect(error(part, found, moved)).toBeLessThan(1e-3);
  });
  it('in meters', () => {
    const small = exported(part, { scale: 1e-3 });
    const motion: Motion = { turn: [1, 2, 0.4], shift: [0.01, 0.02, 0.5] };
    const after = plate(kernel, { ...design, bores: [[10, 8, 1.5], design.bores[1]] });
    const found = align(small, exported(exported(after, { scale: 1e-3 }), motion), { tolerance_mm: 1e-6 });
    expect(found.alignment.kind).toBe('rigid');
    expect(error(small, found, motion)).toBeLessThan(2e-6);
  });
});

describe('symmetry: the placement closest to no motion', () => {
  it('a shifted box is a shift', () => {
    const { alignment } = align(box(10, 20, 30), exported(box(10, 20, 30), { shift: [5, 0, 0] }), {
      tolerance_mm,
    });
    expect(alignment).toMatchObject({
      kind: 'rigid',
      rotation_deg: 0,
      rotation_axis: null,
      translation_mm: [5, 0, 0],
    });
  });
  it('a cube given a quarter turn and a shift is a shift', () => {
    const after = exported(box(10, 10, 10), { turn: [0, 0, Math.PI / 2], shift: [30, 0, 0] });
    const { alignment, exact } = align(box(10, 10, 10), after, { tolerance_mm });
    expect(exact).toBe(true);
    expect(alignment.rotation_deg).toBe(0);
    alignment.translation_mm.forEach((t, k) => expect(t).toBeCloseTo([20, 0, 0][k], 5));
  });
  it('a symmetric part is not called mirrored', () => {
    const after = exported(box(10, 20, 30), { ...moved, mirror: true });
    expect(align(box(10, 20, 30), after, { tolerance_mm }).alignment).toMatchObject({
      kind: 'rigid',
      mirrored: false,
    });
  });
  it('a washer tipped over is turned by 90°, no more', () => {
    const after = exported(washer(10, 4, 2, 64), { turn: [Math.PI / 2, 0, 0], shift: [5, 6, 7] });
    const found = align(washer(10, 4, 2, 64), after, { tolerance_mm });
    expect(found.exact).toBe(true);
    expect(found.alignment.rotation_deg).toBeCloseTo(90, 3);
  });
  it('a ball is never turned', () => {
    const after = exported(ball({ rings: 44 }), moved);
    const found = align(ball({ rings: 30 }), after, { tolerance_mm: 0.2 });
    expect(found).toMatchObject({ exact: true, alignment: { kind: 'rigid', rotation_deg: 0 } });
  });
  it('a thin sheet turned in place by 180° is told by its one small hole', () => {
    const sheet: PlateDesign = {
      size: [100, 60, 0.3],
      bores: [[20, 12, 2]],
      bosses: [],
      cuts: [],
      sides: 32,
    };
    const motion: Motion = { turn: [0, 0, Math.PI], shift: [100, 60, 0] };
    const after = exported(plate(kernel, { ...sheet, sides: 40 }), motion);
    const found = align(plate(kernel, sheet), after, { tolerance_mm });
    expect(found.alignment.rotation_deg).toBeCloseTo(180, 3);
    expect(error(plate(kernel, sheet), found, motion)).toBeLessThan(1e-3);
  });
});

describe('unsound and strange meshes', () => {
  const soup = (mesh: Mesh): Mesh => ({
    positions: Float64Array.from(
      [...mesh.triangles].flatMap(v => [...mesh.positions.subarray(3 * v, 3 * v + 3)]),
    ),
    triangles: mesh.triangles.map((_, k) => k),
  });
  const someFlipped = (mesh: Mesh): Mesh => {
    const flipped = turnedRound(mesh.triangles);
    return {
      ...mesh,
      triangles: mesh.triangles.map((v, k) => (Math.floor(k / 3) % 4 === 0 ? flipped[k] : v)),
    };
  };
  it.each([
    ['open', (m: Mesh): Mesh => withoutFaces(m, f => f % 7 === 0)],
    ['soup', soup],
    ['some faces flipped', someFlipped],
  ])('%s', (_, damage) => {
    const found = align(part, exported(damage(part), moved), { tolerance_mm });
    expect(found.alignment.kind).toBe('rigid');
    expect(error(part, found, moved)).toBeLessThan(1e-4);
  });
  const empty: Mesh = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
  const point: Mesh = { positions: Float32Array.of(1, 1, 1), triangles: Uint32Array.of(0, 0, 0) };
  it.each([
    ['empty', empty],
    ['a single point', point],
    [
      'not finite',
      { positions: Float32Array.of(0, 0, 0, 1, NaN, 0, 0, 1, 0), triangles: Uint32Array.of(0, 1, 2) },
    ],
  ])('%s: none, and a note', (_, mesh) => {
    for (const found of [align(mesh, part, { tolerance_mm }), align(part, mesh, { tolerance_mm })]) {
      expect(found.alignment.kind).toBe('none');
      expect(found.alignment.matrix.flat().every(Number.isFinite)).toBe(true);
      expect(found.notes.map(n => n.code)).toEqual(['align-no-faces']);
    }
  });
  it('a single triangle finds itself', () => {
    const one: Mesh = {
      positions: Float32Array.of(0, 0, 0, 3, 0, 0, 0, 4, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    const found = align(one, exported(one, moved), { tolerance_mm });
    expect(found).toMatchObject({ exact: true, alignment: { kind: 'rigid' } });
  });
});

describe('no forced fit', () => {
  it.each<[string, Mesh, Mesh]>([
    ['a box and a ball of its size', box(32, 32, 32), ball({ rings: 30 })],
    ['two flat parts of one thickness', box(20, 20, 2), washer(10, 4, 2, 64)],
    ['a pebble and a ball', ball({ rings: 40, bumps: true }), ball({ rings: 30 })],
  ])('%s', (_, before, after) => {
    const { alignment } = align(before, after, { tolerance_mm });
    expect(alignment.kind).toBe('none');
    expect(alignment.matrix).toEqual([[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]]); // prettier-ignore
  });
});

it('as placed: the identity, whatever stands there', () => {
  const found = align(part, exported(part, moved), { tolerance_mm, asPlaced: true });
  expect(found.alignment.kind).toBe('identity');
  expect(found.exact).toBe(false);
  expect(align(part, part, { tolerance_mm, asPlaced: true }).exact).toBe(true);
});

describe('where another turn fits as well, standing still wins', () => {
  const square: PlateDesign = { size: [40, 40, 4], bores: [[14, 22, 0.8]], bosses: [], cuts: [], sides: 24 };
  const reworks: [string, PlateDesign, PlateDesign][] = [
    [
      'a square plate, its bore moved and a stud added',
      square,
      { ...square, bores: [[16, 21, 0.8]], bosses: [[30, 5, 2, 3]] },
    ],
    [
      'a plate nearly square with a boss, its bore moved and a stud added',
      { ...square, size: [40, 40.0005, 4], bosses: [[20, 20, 6, 5]] },
      {
        ...square,
        size: [40, 40.0005, 4],
        bores: [[22, 13, 0.8]],
        bosses: [
          [20, 20, 6, 5],
          [30, 5, 2, 3],
        ],
      },
    ],
    [
      'a square plate made thicker, its bore widened',
      square,
      { ...square, size: [40, 40, 5], bores: [[14, 22, 1.2]] },
    ],
  ];
  for (const [what, before, after] of reworks) {
    it(what, () => {
      const found = align(plate(kernel, before), plate(kernel, after), { tolerance_mm });
      expect(found.alignment).toMatchObject({ kind: 'identity', rotation_deg: 0 });
      expect(found.exact).toBe(false);
    });
    it(`${what}, exported elsewhere: a plain shift`, () => {
      const away = exported(plate(kernel, after), { shift: [35, -12, 60] });
      const { alignment } = align(plate(kernel, before), away, { tolerance_mm });
      expect(alignment).toMatchObject({ kind: 'rigid', rotation_deg: 0 });
      [35, -12].forEach((v, k) => expect(alignment.translation_mm[k]).toBeCloseTo(v, 3));
    });
  }
  it('but not where a turn brings clearly more home', () => {
    const asymmetric: PlateDesign = { ...square, bores: [[8, 9, 3]], bosses: [[30, 12, 4, 6]] };
    const reworked: PlateDesign = { ...asymmetric, bores: [[8, 9, 3], [20, 33, 1]] }; // prettier-ignore
    const motion: Motion = { turn: [0, 0, Math.PI / 2], shift: [40, 0, 0] };
    const found = align(plate(kernel, asymmetric), exported(plate(kernel, reworked), motion), {
      tolerance_mm,
    });
    expect(found.alignment.rotation_deg).toBeCloseTo(90, 3);
    expect(error(plate(kernel, asymmetric), found, motion)).toBeLessThan(1e-3);
  });
});
