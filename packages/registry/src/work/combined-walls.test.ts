import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { noChoices } from '@kinprint/compare';
import { writeStlBinary } from '@kinprint/mesh';
import { afterAll, describe, expect, it } from 'vitest';
import { plateWithHoles, type Hole } from '../../../mesh/src/testing/plate.ts';
import { combineEntries, combineFiles, readAlike } from '../combine/combine-files.ts';
import { wallNotes } from './combined-walls.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-walls-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A plate, and what two people drilled into it: corners of the holes face each other across `between_mm`. */
async function notesWith(between_mm: number) {
  const hole = (x: number): Hole => ({ x, y: 10, r: 3, sides: 64 });
  const meshes = { base: [], a: [hole(10)], b: [hole(16 + between_mm)] };
  const places = { base: '', a: '', b: '' };
  for (const side of ['base', 'a', 'b'] as const) {
    places[side] = path.join(folder, `${side}-${between_mm}.stl`);
    writeFileSync(places[side], writeStlBinary(plateWithHoles(40, 20, 5, meshes[side])));
  }
  const { combination } = await combineFiles(combineEntries(places), places, {
    options: { asPlaced: true },
    choices: noChoices,
    format: 'stl',
    read: readAlike({}),
    worker: null,
  });
  expect(combination.proof?.holds).toBe(true);
  return combination.notes.filter(({ code }) => code === 'wall-thinner').map(({ text }) => text);
}

describe('the walls of a combination', () => {
  it('two holes that are sound by themselves leave 0.2 mm between them: told, with the place', async () => {
    const [told, ...others] = await notesWith(0.2);
    expect(others).toEqual([]);
    // Anywhere through the thickness of the plate.
    expect(told).toMatch(
      /^The thinnest wall of the result is 0\.2 mm, at \(13\.1, 10\.0, [0-5]\.\d\); base 5 mm, A 5 mm, B 5 mm\. /,
    );
  });

  it('two that leave as much as the plate is thick are not', async () => {
    expect(await notesWith(5)).toEqual([]);
  });

  it('a loss within the tolerance, or of less than a twentieth, is none', () => {
    const place = (thickness_mm: number) => ({
      thickness_mm,
      from_mm: [0, 0, 0] as const,
      to_mm: [0, 0, thickness_mm] as const,
    });
    const three = { base: null, a: 2, b: 3 };
    expect(wallNotes(place(1.9), three, 0)).toEqual([]);
    expect(wallNotes(place(1.89), three, 0)).toHaveLength(1);
    expect(wallNotes(place(1.89), three, 0.02)).toEqual([]);
    expect(wallNotes(null, three, 0)).toEqual([]);
    expect(wallNotes(place(1), { base: null, a: null, b: null }, 0)).toEqual([]);
  });
});
