import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { box, icosphere } from '../testing/shapes.ts';
import { meshBuilder } from '../testing/builder.ts';
import { joined, moved, rotation } from '../testing/motions.ts';
import type { Mesh, Vec3 } from '../types.ts';
import { overhang } from './overhang.ts';

const up: Vec3 = [0, 0, 1];

/** Block 10 × 10 × 10 on the bed, with one side face leaning outward by `lean` degrees from the vertical. */
function leaning(lean: number): Mesh {
  const m = meshBuilder();
  const out = 10 * Math.tan((lean * Math.PI) / 180);
  const low = [m.vertex(0, 0, 0), m.vertex(10, 0, 0), m.vertex(10, 10, 0), m.vertex(0, 10, 0)];
  const high = [
    m.vertex(0, 0, 10),
    m.vertex(10 + out, 0, 10),
    m.vertex(10 + out, 10, 10),
    m.vertex(0, 10, 10),
  ];
  m.polygon([...low].reverse());
  m.polygon(high);
  for (let i = 0; i < 4; i++) m.quad(low[i], low[(i + 1) % 4], high[(i + 1) % 4], high[i]);
  return m.mesh();
}

/** The same in the 32-bit floats of a binary STL. */
const in32Bits = (mesh: Mesh): Mesh => ({
  positions: Float32Array.from(mesh.positions),
  triangles: mesh.triangles,
});

// Rules and checks: 45° from the vertical needs support beyond, exactly 45° does not (habit of the trade).
describe('overhang', () => {
  it.each([
    [0, 0],
    [30, 0],
    [45, 0],
    [60, 10 * (10 / Math.cos(Math.PI / 3))],
  ])('counts a face that leans %d° from the vertical as %d mm²', (lean, area) => {
    for (const mesh of [leaning(lean), in32Bits(leaning(lean))]) {
      const result = overhang(mesh, { up });
      expect(result.overhang_area_mm2).toBeCloseTo(area, 3);
      expect(result.bed_contact_mm2).toBeCloseTo(100, 3);
    }
  });

  it('takes exactly 45° as no overhang in any position and size, in 32-bit floats too', () => {
    const turn = fc.double({ min: 0, max: 2 * Math.PI, noNaN: true });
    const shift = fc.double({ min: -300, max: 300, noNaN: true });
    const size = fc.double({ min: 0.05, max: 50, noNaN: true });
    fc.assert(
      fc.property(turn, shift, shift, size, (angle, x, y, s) => {
        const spin = rotation(Math.cos(angle / 2), 0, 0, Math.sin(angle / 2));
        const grown = spin.map(row => row.map(c => c * s)) as unknown as typeof spin;
        const mesh = in32Bits(moved(leaning(45), grown, [x, y, 7]));
        expect(overhang(mesh, { up }).overhang_area_mm2).toBe(0);
        const steeper = in32Bits(moved(leaning(46), grown, [x, y, 7]));
        expect(overhang(steeper, { up }).overhang_area_mm2).toBeGreaterThan(90 * s * s);
      }),
    );
  });

  it('counts a flat ceiling, but not the face on the bed, for any build direction', () => {
    const table = joined(box(2, 2, 5), box(20, 20, 1, [0, 0, 5.5]));
    const result = overhang(table, { up });
    expect(result).toEqual({ overhang_area_mm2: 400, bed_contact_mm2: 4 });
    const quaternion = fc.tuple(...[0, 1, 2, 3].map(() => fc.integer({ min: -9, max: 9 })));
    fc.assert(
      fc.property(
        quaternion.filter(q => q.some(c => c !== 0)),
        ([w, x, y, z]) => {
          const turned = rotation(w, x, y, z);
          const direction = turned.map(row => row[2]) as unknown as Vec3;
          const again = overhang(moved(table, turned, [30, -40, 50]), { up: direction });
          expect(again.overhang_area_mm2).toBeCloseTo(400, 6);
          expect(again.bed_contact_mm2).toBeCloseTo(4, 6);
        },
      ),
    );
  });

  it('gives the cap of a ball below 45° of latitude: 2πr²(1 − cos 45°)', () => {
    const r = 10;
    const { overhang_area_mm2: area } = overhang(icosphere(r, 6), { up });
    expect(Math.abs((area ?? NaN) / (2 * Math.PI * r * r * (1 - Math.SQRT1_2)) - 1)).toBeLessThan(0.01);
  });

  it('follows the limit asked for', () => {
    expect(overhang(leaning(60), { up, limit_deg: 20 }).overhang_area_mm2).toBe(0);
    expect(overhang(leaning(30), { up, limit_deg: 70 }).overhang_area_mm2).toBeGreaterThan(100);
  });

  it('has no figure for an empty mesh or one without area, and skips faces that are not finite', () => {
    const none = { overhang_area_mm2: null, bed_contact_mm2: null };
    expect(overhang({ positions: new Float64Array(0), triangles: new Uint32Array(0) }, { up })).toEqual(none);
    const flat = {
      positions: Float64Array.of(0, 0, 0, 1, 0, 0, 2, 0, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect(overhang(flat, { up })).toEqual(none);
    const broken = joined(box(2, 2, 2), {
      positions: Float64Array.of(NaN, 0, 0, 1, Infinity, 0, 2, 0, 0),
      triangles: Uint32Array.of(0, 1, 2),
    });
    expect(overhang(broken, { up })).toEqual({ overhang_area_mm2: 0, bed_contact_mm2: 4 });
  });

  it('refuses a build direction without length', () => {
    expect(() => overhang(box(1, 1, 1), { up: [0, 0, 0] })).toThrow(
      expect.objectContaining({ code: 'up-direction' }),
    );
  });
});
