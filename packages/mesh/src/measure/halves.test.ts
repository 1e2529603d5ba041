import { describe, expect, it } from 'vitest';
import { flipped, joined, translated, without } from '../testing/motions.ts';
import { plateWithHoles } from '../testing/plate.ts';
import { box, icosphere } from '../testing/shapes.ts';
import { cubesSharingFace, moebiusBand } from '../testing/surfaces.ts';
import type { Mesh, MeshFile } from '../types.ts';
import { halves, joinHalves } from './halves.ts';
import { measure, type MeasureOptions } from './measure.ts';

const plate = plateWithHoles(40, 20, 6, [{ x: 20, y: 10, r: 4, sides: 24 }]);
const meshes: Readonly<Record<string, Mesh>> = {
  'a sound part': plate,
  'an open one': without(plate, 0, 5),
  'inside out': flipped(plate),
  'of one side only': moebiusBand(8),
  'crossing itself': joined(box(10, 10, 1), box(1, 1, 9, [6, 2, -4])),
  'partly inside out': joined(plate, translated(flipped(icosphere(3, 1)), [0, 0, 40])),
  'touching itself': flipped(cubesSharingFace()),
  flat: joined(box(10, 10, 0), translated(box(1, 1, 1), [0, 0, 5])),
  'without faces': { positions: new Float32Array(0), triangles: new Uint32Array(0) },
};

function measured(mesh: Mesh, options: MeasureOptions) {
  const object = { name: 'part', mesh };
  const notes = [{ code: 'unit-assumed', text: 'Millimeters are assumed.' }];
  const file: MeshFile = {
    format: 'stl-binary',
    unit: 'inch',
    unitAssumed: true,
    objects: [object],
    notes,
  };
  return measure(object, file, options);
}

describe('halves of a measurement', () => {
  it.each(Object.keys(meshes))('join to the same as the whole, notes and their order included: %s', name => {
    for (const options of [{}, { up: [0, 1, 0] }, { overhang: false }, { features: false }] as const) {
      const split = halves(options);
      if (split === null) throw new Error('not split');
      const whole = measured(meshes[name], options);
      const rest = measured(meshes[name], split.rest);
      expect(rest).not.toEqual(whole);
      const joint = joinHalves(rest, measured(meshes[name], split.walls));
      expect(joint).toEqual(whole);
      expect(JSON.stringify(joint)).toBe(JSON.stringify(whole));
    }
  });

  it('are not made where there is one half only', () => {
    expect(halves({ walls: false })).toBeNull();
    expect(halves({ selfIntersections: false, features: false, overhang: false })).toBeNull();
  });
});
