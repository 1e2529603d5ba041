import { describe, expect, it } from 'vitest';
import { bytesSource } from '../bytes.ts';
import { box } from '../testing/shapes.ts';
import type { Unit } from '../types.ts';
import { writeStlBinary } from '../write/stl-binary.ts';
import { readMesh } from './read-mesh.ts';
import { toMillimeters } from './units.ts';

describe('units', () => {
  // Checks of the reference facts on formats and units; exact by the definition of the international inch.
  it.each<[number, Unit, number]>([
    [1, 'inch', 25.4],
    [0.125, 'inch', 3.175],
    [2, 'foot', 609.6],
    [1500, 'micron', 1.5],
    [3, 'centimeter', 30],
    [0.25, 'meter', 250],
    [7, 'millimeter', 7],
  ])('%d %s is %d mm', (value, unit, expected) => {
    expect(toMillimeters(value, unit)).toBe(expected);
  });

  const suspicion = (x: number, y: number, z: number, unit?: Unit) => {
    const source = bytesSource(writeStlBinary(box(x, y, z)));
    const notes = readMesh(source, unit === undefined ? {} : { unit }).notes;
    return notes.find(note => note.code === 'unit-suspect')?.text;
  };

  it('a size that suggests inches or meters is noted, by the largest extent', () => {
    expect(suspicion(3.2, 1, 0.1)).toMatch(/3\.20 mm .* inches/);
    expect(suspicion(0.08, 0.02, 0.001)).toMatch(/0\.0800 mm .* meters/);
    expect(suspicion(80, 20, 0.4)).toBeUndefined();
    expect(suspicion(0.1, 0.1, 6)).toBeUndefined();
  });

  it('says nothing when the unit was asked for', () => {
    expect(suspicion(3.2, 1, 0.1, 'millimeter')).toBeUndefined();
    expect(suspicion(0.08, 0.02, 0.001, 'meter')).toBeUndefined();
  });
});
