import { describe, expect, it } from 'vitest';
import { flipped, joined, translated, without } from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';
import { box, icosphere } from '../testing/shapes.ts';
import { cubesSharingFace, moebiusBand } from '../testing/surfaces.ts';
import type { Mesh, MeshFile } from '../types.ts';
import { measure, type MeasureOptions } from './measure.ts';

function measured(mesh: Mesh, options?: MeasureOptions) {
  const object = { name: 'plate', mesh };
  const file: MeshFile = {
    format: 'stl-binary',
    unit: 'millimeter',
    unitAssumed: true,
    objects: [object],
    notes: [{ code: 'unit-assumed', text: 'Millimeters are assumed.' }],
  };
  return measure(object, file, options);
}

const codes = (mesh: Mesh, options?: MeasureOptions) => measured(mesh, options).notes.map(note => note.code);
const plate = plateWithHoles(40, 20, 6, [{ x: 20, y: 10, r: 1.6, sides: 24 }]);

describe('measure', () => {
  it('puts the figures, the file and its notes together', () => {
    const part = measured(plate);
    expect(part).toMatchObject({
      name: 'plate',
      format: 'stl-binary',
      unit: 'millimeter',
      unit_assumed: true,
      genus: 1,
    });
    expect(part.soundness).toMatchObject({ watertight: true, self_intersections: 0 });
    expect(part.notes[0].code).toBe('unit-assumed');
    const bore = part.features.find(feature => feature.kind === 'bore');
    expect(bore?.diameter_mm).toBeCloseTo(3.2, 9);
    // Plate 40 × 20 × 6 lying on the bed; the polygon of the bore is open to it.
    expect(part.thinnest_wall_mm).toBeCloseTo(6, 6);
    expect(part.overhang_area_mm2).toBe(0);
    expect(part.bed_contact_mm2).toBeCloseTo(800 - 12 * 1.6 ** 2 * Math.sin(Math.PI / 12), 9);
  });

  it('says of shells that pass through each other that they count twice', () => {
    const mesh = joined(box(10, 10, 1), box(1, 1, 9, [6, 2, -4]));
    const part = measured(mesh);
    expect(part.soundness.self_intersections).toBeGreaterThan(0);
    expect(part.soundness.places_mm.self_intersections).toHaveLength(5);
    expect(part.volume_mm3).toBeCloseTo(109, 9);
    expect(part.notes.find(note => note.code === 'shells-overlap')?.about).toBe('volume_mm3');
  });

  it('tells solids that stand on each other from solids in each other', () => {
    // Stacked off center: the faces in the common plane overlap, the material does not.
    const stacked = joined(box(2, 2, 1), box(2, 2, 1, [0.5, 0.25, 1]));
    expect(measured(stacked).soundness.self_intersections).toBeGreaterThan(0);
    expect(codes(stacked)).toContain('faces-overlap');
    expect(codes(stacked)).not.toContain('shells-overlap');
  });

  it('turns shells over that close only together', () => {
    const part = measured(flipped(cubesSharingFace()));
    expect(part.volume_mm3).toBeCloseTo(-2, 12);
    expect(part.soundness.inverted_shells).toBe(part.shells);
    expect(codes(flipped(cubesSharingFace()))).toContain('inside-out');
    expect(part.bed_contact_mm2).toBeCloseTo(1, 12);
  });

  it('leaves out what it is told to, and says so', () => {
    const part = measured(plate, {
      selfIntersections: false,
      features: false,
      walls: false,
      overhang: false,
    });
    expect(part.soundness.self_intersections).toBeNull();
    expect(part.features).toEqual([]);
    const about = part.notes.map(note => note.about);
    expect(about).toContain('soundness.self_intersections');
    expect(about).toContain('features');
    expect(about).toContain('thinnest_wall_mm');
    expect(about).toContain('overhang_area_mm2');
    expect(part).toMatchObject({
      thinnest_wall_mm: null,
      thin_places: [],
      overhang_area_mm2: null,
      bed_contact_mm2: null,
    });
  });

  it('measures an inside-out mesh right side out, but keeps the sign of its volume', () => {
    const part = measured(flipped(plate));
    expect(part.volume_mm3).toBeLessThan(0);
    expect(part.features.filter(feature => feature.kind === 'bore')).toHaveLength(1);
    expect(part.features).toEqual(measured(plate).features);
    expect(part.thinnest_wall_mm).toBeCloseTo(6, 6);
    expect(part.bed_contact_mm2).toBeCloseTo(measured(plate).bed_contact_mm2 ?? NaN, 9);
    expect(codes(flipped(plate))).toContain('measured-turned');
  });

  it('says when the outside is assumed or in doubt', () => {
    expect(codes(without(plate, 0))).toContain('outside-assumed');
    expect(codes(moebiusBand(8))).toContain('features-uncertain');
    expect(measured(moebiusBand(8))).toMatchObject({ thinnest_wall_mm: null, overhang_area_mm2: null });
    const mixed = joined(plate, translated(flipped(icosphere(3, 1)), [0, 0, 40]));
    expect(codes(mixed)).toContain('features-uncertain');
    expect(measured(mixed)).toMatchObject({
      thinnest_wall_mm: null,
      overhang_area_mm2: null,
      bed_contact_mm2: null,
    });
    expect(measured(mixed).notes.filter(note => note.about === 'overhang_area_mm2')).toHaveLength(1);
  });

  it('gives every missing figure a reason, whatever the mesh', () => {
    const nothing = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
    for (const mesh of [nothing, without(plate, 0, 5), moebiusBand(6), flipped(plate), icosphere(1, 0)]) {
      const part = measured(mesh);
      const about = part.notes.map(note => note.about);
      for (const key of ['volume_mm3', 'genus', 'thinnest_wall_mm', 'overhang_area_mm2'] as const) {
        if (part[key] === null) expect(about, key).toContain(key);
      }
    }
  });
});
