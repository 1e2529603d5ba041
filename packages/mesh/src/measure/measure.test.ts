import { describe, expect, it } from 'vitest';
import { flipped, joined, translated, without } from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';
import { box, icosphere } from '../testing/shapes.ts';
import { moebiusBand } from '../testing/surfaces.ts';
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
  });

  it('says of shells that pass through each other that they count twice', () => {
    const mesh = joined(box(10, 10, 1), box(1, 1, 9, [6, 2, -4]));
    const part = measured(mesh);
    expect(part.soundness.self_intersections).toBeGreaterThan(0);
    expect(part.soundness.places_mm.self_intersections).toHaveLength(5);
    expect(part.volume_mm3).toBeCloseTo(109, 9);
    expect(part.notes.find(note => note.code === 'shells-overlap')?.about).toBe('volume_mm3');
  });

  it('leaves out what it is told to, and says so', () => {
    const part = measured(plate, { selfIntersections: false, features: false });
    expect(part.soundness.self_intersections).toBeNull();
    expect(part.features).toEqual([]);
    const about = part.notes.map(note => note.about);
    expect(about).toContain('soundness.self_intersections');
    expect(about).toContain('features');
  });

  it('measures an inside-out mesh right side out, but keeps the sign of its volume', () => {
    const part = measured(flipped(plate));
    expect(part.volume_mm3).toBeLessThan(0);
    expect(part.features.filter(feature => feature.kind === 'bore')).toHaveLength(1);
    expect(part.features).toEqual(measured(plate).features);
    expect(codes(flipped(plate))).toContain('measured-turned');
  });

  it('says when the outside is assumed or in doubt', () => {
    expect(codes(without(plate, 0))).toContain('outside-assumed');
    expect(codes(moebiusBand(8))).toContain('features-uncertain');
    const mixed = joined(plate, translated(flipped(icosphere(3, 1)), [0, 0, 40]));
    expect(codes(mixed)).toContain('features-uncertain');
  });
});
