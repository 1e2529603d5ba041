import { readFileSync } from 'node:fs';
import path from 'node:path';
import { compareAssemblies, type AssemblyReport, type Mate } from '@kinprint/registry';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { box, prism } from '../../packages/mesh/src/testing/shapes.ts';
import { assembled } from '../../packages/registry/src/testing/assembled.ts';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import '../support/property-seed.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

afterAll(removeTemporaryFolders);

const sides = 96;
/** The circle through the corners of a polygon whose flats have this diameter. */
const throughCorners = (flats: number) => flats / Math.cos(Math.PI / sides);

interface Pair {
  /** Across the flats of the bore, through the corners of the pin. */
  readonly bore: number;
  readonly pin: number;
  readonly clearance?: string;
  /** Where the pin stands in the frame of the plate, whose bore has its axis at (25, 25). */
  readonly at?: readonly [number, number, number];
  /** About y. */
  readonly tilt?: number;
  readonly placed?: boolean;
}

/** A plate of 60 × 50 × 5 with one bore, and a pin of 30. */
async function pair({
  bore,
  pin,
  clearance,
  at = [25, 25, -10],
  tilt,
  placed = true,
}: Pair): Promise<AssemblyReport> {
  const rotate = tilt === undefined ? '' : `, rotate: { axis: [0, 1, 0], degrees: ${tilt} }`;
  return assembled(
    `parts:
  - id: plate
    mesh: parts/plate.stl
    interfaces:
      - { id: pivot, kind: bore, nominal_mm: ${bore}, mates: axle/shaft${clearance === undefined ? '' : `, clearance: ${clearance}`} }
  - id: axle
    mesh: parts/axle.stl
    interfaces:
      - { id: shaft, kind: pin, nominal_mm: ${pin} }
${placed ? `assembly:\n  - { part: plate }\n  - { part: axle, translate_mm: [${at.join(', ')}]${rotate} }\n` : ''}`,
    {
      'plate.stl': plateWithHoles(60, 50, 5, [{ x: 25, y: 25, r: throughCorners(bore) / 2, sides }]),
      'axle.stl': prism(sides, pin / 2, 30),
    },
  );
}

const mateOf = ({ mates }: AssemblyReport): Mate => {
  expect(mates).toHaveLength(1);
  return mates[0];
};

describe('a pin in a bore, by hand', () => {
  it('6.0 in 6.8: 0.8 mm on the diameter, in line over the plate, nothing interferes', async () => {
    const report = await pair({ bore: 6.8, pin: 6, clearance: 'sliding' });
    expect(report.interferences).toEqual([]);
    expect(report.unplaced).toEqual([]);
    expect(report.notes).toEqual([]);
    const mate = mateOf(report);
    expect(mate).toMatchObject({
      seat: { kind: 'bore', part: 'plate', interface: 'pivot', nominal_mm: 6.8, measured_mm: 6.8 },
      takes: { kind: 'pin', part: 'axle', interface: 'shaft', measured_mm: 6 },
      declared: 'sliding',
      clearance_mm: 0.8,
      verdict: 'as-asked',
    });
    const [line] = mate.lines;
    expect(line).toMatchObject({ seat: 'plate', other: 'axle', other_interface: 'shaft', in_line: true });
    expect(line.offset_mm).toBeCloseTo(0, 4);
    expect(line.angle_deg).toBeCloseTo(0, 3);
    // The plate is 5 mm thick, and the pin reaches through it.
    expect(line.overlap_mm).toBeCloseTo(5, 4);
  });

  it('6.0 in 6.4 is tighter than sliding, 6.0 in 7.2 looser; 6.2 in 6.0 interferes by a ring', async () => {
    expect(mateOf(await pair({ bore: 6.4, pin: 6, clearance: 'sliding' })).verdict).toBe('tighter');
    expect(mateOf(await pair({ bore: 7.2, pin: 6, clearance: 'sliding' })).verdict).toBe('looser');
    const report = await pair({ bore: 6, pin: 6.2 });
    expect(mateOf(report)).toMatchObject({ clearance_mm: -0.2, verdict: 'interference' });
    // Area of a polygon by its circumscribed radius: n/2 · r² · sin(2π/n); 5 mm of plate.
    const area = (r: number) => (sides / 2) * r * r * Math.sin((2 * Math.PI) / sides);
    const ring = 5 * (area(3.1) - area(throughCorners(3)));
    const [found] = report.interferences ?? [];
    expect(found).toMatchObject({ a: 'plate', b: 'axle', intended: false });
    expect(found.volume_mm3 / ring).toBeCloseTo(1, 2);
    [25, 25, 2.5].forEach((v, k) => expect(found.regions[0].centroid_mm[k]).toBeCloseTo(v, 2));
  });

  it('a pin 2 mm beside the axis of its bore: out of line, and the crescent of two circles', async () => {
    const report = await pair({ bore: 6.8, pin: 6, clearance: 'sliding', at: [27, 25, -10] });
    const [line] = mateOf(report).lines;
    expect(line.offset_mm).toBeCloseTo(2, 4);
    expect(line.in_line).toBe(false);
    // MathWorld, Circle-Circle Intersection, eq. 14: what of the pin lies in the bore.
    const [R, r, d] = [3.4, 3, 2];
    const lens =
      r ** 2 * Math.acos((d ** 2 + r ** 2 - R ** 2) / (2 * d * r)) +
      R ** 2 * Math.acos((d ** 2 + R ** 2 - r ** 2) / (2 * d * R)) -
      Math.sqrt((-d + r + R) * (d + r - R) * (d - r + R) * (d + r + R)) / 2;
    const crescent = 5 * (Math.PI * r ** 2 - lens);
    const [found] = report.interferences ?? [];
    expect(found.volume_mm3 / crescent).toBeCloseTo(1, 1);
    expect(found.depth_mm).toBeCloseTo(d + r - R, 1);
  });

  it('a tilted pin, and one that stands before its bore', async () => {
    const tilted = mateOf(await pair({ bore: 12, pin: 6, at: [25, 25, -10], tilt: 3 }));
    expect(tilted.lines[0].angle_deg).toBeCloseTo(3, 3);
    expect(tilted.lines[0].in_line).toBe(false);
    const before = mateOf(await pair({ bore: 6.8, pin: 6, at: [25, 25, 7] }));
    expect(before.lines[0].overlap_mm).toBeCloseTo(-2, 4);
    expect(before.lines[0].in_line).toBe(false);
  });

  it('without placements there are clearances all the same, and no interferences', async () => {
    const report = await pair({ bore: 6.8, pin: 6, clearance: 'sliding', placed: false });
    expect(report.placed).toEqual([]);
    expect(report.interferences).toEqual([]);
    expect(report.unplaced.map(({ part, why }) => `${part} ${why}`)).toEqual([
      'plate no-placement',
      'axle no-placement',
    ]);
    expect(mateOf(report)).toMatchObject({ clearance_mm: 0.8, lines: [] });
  });

  it('a press fit means to interfere in its bore, and nowhere else', async () => {
    const pressed = await pair({ bore: 6, pin: 6.2, clearance: 'press' });
    expect(pressed.interferences?.map(one => one.intended)).toEqual([true]);
    const beside = await pair({ bore: 6, pin: 6.2, clearance: 'press', at: [40, 25, -10] });
    expect(beside.interferences?.map(one => one.intended)).toEqual([false]);
  });
});

describe('published tables', () => {
  const facts = parse(
    readFileSync(path.join(import.meta.dirname, '../reference/fits/iso286-limits-and-fits.yaml'), 'utf8'),
  ) as {
    readonly rows: readonly {
      readonly over_mm: number;
      readonly up_to_mm: number;
      readonly clearance_um: Readonly<Record<string, readonly [number, number]>>;
    }[];
  };

  it('a bore and a pin at the ends of ISO 286 H7/g6 are as asked, and beyond them not', async () => {
    for (const row of facts.rows.filter(({ over_mm }) => over_mm >= 3 && over_mm < 18)) {
      const [least, most] = row.clearance_um['H7/g6'].map(um => um / 1000);
      const pin = row.up_to_mm;
      for (const [clearance, verdict] of [
        [least, 'as-asked'],
        [most, 'as-asked'],
        [least - 0.002, 'tighter'],
        [most + 0.002, 'looser'],
      ] as const) {
        const mate = mateOf(await pair({ bore: pin + clearance, pin, clearance: 'H7/g6', placed: false }));
        expect(mate.clearance_mm).toBeCloseTo(clearance, 3);
        expect(mate.verdict, `${pin} mm, ${clearance} mm`).toBe(verdict);
      }
    }
  });

  it('the medium hole of ISO 273 for M3 is 3.4 mm; scaled by 0.85 or 1.2 it is not', async () => {
    const hole = (mm: number) =>
      assembled(
        `parts:
  - id: plate
    mesh: parts/plate.stl
    interfaces:
      - { id: hole, kind: bore, nominal_mm: ${mm}, mates: hardware/screw, clearance: medium }
hardware:
  - { id: screw, title: Screw, quantity: 1, standard: ISO 4762, size: M3 × 16 }
`,
        { 'plate.stl': plateWithHoles(60, 50, 5, [{ x: 25, y: 25, r: throughCorners(mm) / 2, sides }]) },
      );
    expect(mateOf(await hole(3.4))).toMatchObject({
      takes: { kind: 'hardware', hardware: 'screw', across_mm: 3 },
      clearance_mm: 0.4,
      verdict: 'as-asked',
    });
    expect(mateOf(await hole(2.89)).verdict).toBe('interference');
    expect(mateOf(await hole(4.08)).verdict).toBe('looser');
  });
});

it('a screw has no place of its own: its bores in several parts should lie in line', async () => {
  const stack = (shift: number) =>
    assembled(
      `parts:
  - { id: lid, mesh: parts/plate.stl, interfaces: [{ id: hole, kind: bore, nominal_mm: 3.4, mates: hardware/screw, clearance: medium }] }
  - { id: base, mesh: parts/plate.stl, interfaces: [{ id: hole, kind: bore, nominal_mm: 3.4, mates: hardware/screw, clearance: medium }] }
hardware:
  - { id: screw, title: Screw, quantity: 1, size: M3 × 16 }
assembly:
  - { part: base }
  - { part: lid, translate_mm: [${shift}, 0, 5] }
`,
      { 'plate.stl': plateWithHoles(60, 50, 5, [{ x: 25, y: 25, r: throughCorners(3.4) / 2, sides }]) },
    );
  for (const [shift, in_line] of [
    [0, true],
    [0.25, true],
    [1, false],
  ] as const) {
    const { mates, interferences } = await stack(shift);
    // Faces that touch are no interference.
    expect(interferences).toEqual([]);
    expect(mates.map(({ lines }) => lines.map(line => line.in_line))).toEqual([[in_line], [in_line]]);
    expect(mates[0].lines[0].offset_mm).toBeCloseTo(shift, 4);
  }
});

it('a part placed twice is two, each with the pin that is nearest to it', async () => {
  const { placed, mates, interferences } = await assembled(
    `parts:
  - { id: plate, mesh: parts/plate.stl, interfaces: [{ id: pivot, kind: bore, nominal_mm: 6.8, mates: axle/shaft }] }
  - { id: axle, mesh: parts/axle.stl, interfaces: [{ id: shaft, kind: pin, nominal_mm: 6 }] }
  - { id: spare, mesh: parts/axle.stl }
assembly:
  - { part: plate }
  - { part: plate, translate_mm: [120, 0, 0], rotate: { axis: [0, 0, 1], degrees: 90 } }
  - { part: axle, translate_mm: [95, 25, -10] }
  - { part: axle, translate_mm: [25, 25, -10] }
  - { part: axle, translate_mm: [25, 25, 15] }
`,
    {
      'plate.stl': plateWithHoles(60, 50, 5, [{ x: 25, y: 25, r: throughCorners(6.8) / 2, sides }]),
      'axle.stl': prism(sides, 3, 30),
    },
  );
  expect(placed.map(({ name, placement }) => `${placement} ${name}`)).toEqual([
    '0 plate',
    '1 plate#2',
    '2 axle',
    '3 axle#2',
    '4 axle#3',
  ]);
  expect(mates[0].lines.map(({ seat, other, in_line }) => `${seat} ${other} ${in_line}`)).toEqual([
    'plate axle#2 true',
    'plate#2 axle true',
  ]);
  // 30 mm from −10 up, and 30 mm from 15 up, on one axis.
  expect(interferences?.map(({ a, b }) => `${a} ${b}`)).toEqual(['axle#2 axle#3']);
  expect(interferences?.[0].regions[0].bounds_mm.max[2]).toBeCloseTo(20, 3);
});

describe('before and after', () => {
  const at = (shift: number): NonNullable<Pair['at']> => [25 + shift, 25, -10];
  const between = async (before: Pair, after: Pair) =>
    compareAssemblies(await pair(before), await pair(after));

  it('names what is new, gone, grown and shrunk', async () => {
    const changes = async (before: number, after: number) =>
      (
        await between({ bore: 6.8, pin: 6, at: at(before) }, { bore: 6.8, pin: 6, at: at(after) })
      ).interferences?.map(({ a, b, change }) => `${a} ${b} ${change}`);
    expect(await changes(0, 2)).toEqual(['plate axle new']);
    expect(await changes(2, 0)).toEqual(['plate axle gone']);
    expect(await changes(1, 2)).toEqual(['plate axle grown']);
    expect(await changes(2, 1)).toEqual(['plate axle shrunk']);
    expect(await changes(2, 2)).toEqual([]);
  });

  it('tells a clearance that left its class from one that changed within', async () => {
    const sliding = (bore: number): Pair => ({ bore, pin: 6, clearance: 'sliding' });
    const { clearances } = await between(sliding(6.8), sliding(6.4));
    expect(clearances).toMatchObject([
      {
        seat: { part: 'plate', interface: 'pivot' },
        takes: 'axle/shaft',
        change: 'changed',
        crossed: 'left',
        line: null,
      },
    ]);
    expect(clearances[0].before?.clearance_mm).toBe(0.8);
    expect(clearances[0].after?.clearance_mm).toBe(0.4);
    expect((await between(sliding(6.4), sliding(6.8))).clearances).toMatchObject([{ crossed: 'entered' }]);
    expect((await between(sliding(6.8), sliding(6.9))).clearances).toMatchObject([
      { crossed: null, change: 'changed' },
    ]);
    expect((await between(sliding(6.8), sliding(6.8))).clearances).toEqual([]);
    expect((await between(sliding(6.8), { ...sliding(6.8), at: at(2) })).clearances).toMatchObject([
      { crossed: null, line: 'left' },
    ]);
    // No class declared: play that is lost.
    expect((await between({ bore: 6.2, pin: 6 }, { bore: 6, pin: 6 })).clearances).toMatchObject([
      { crossed: 'left' },
    ]);
    expect(
      compareAssemblies(await pair(sliding(6.8)), await pair({ ...sliding(6.8), placed: false })).placed,
    ).toEqual([
      { name: 'plate', change: 'removed' },
      { name: 'axle', change: 'removed' },
    ]);
  });

  it('is the same story told backwards when the sides are exchanged', async () => {
    const reports = await Promise.all(
      [0, 0.5, 2, 5].map(shift => pair({ bore: 6.8, pin: 6, at: at(shift) })),
    );
    const index = fc.integer({ min: 0, max: reports.length - 1 });
    const back = { new: 'gone', gone: 'new', grown: 'shrunk', shrunk: 'grown' } as const;
    fc.assert(
      fc.property(index, index, (i, j) => {
        const there = compareAssemblies(reports[i], reports[j]).interferences ?? [];
        const again = compareAssemblies(reports[j], reports[i]).interferences ?? [];
        expect(again.map(({ change }) => change)).toEqual(there.map(({ change }) => back[change]));
      }),
    );
  });
});

it('a mesh that encloses nothing is said, and the rest is found', async () => {
  const whole = box(10, 10, 10);
  const { interferences, notes, unplaced } = await assembled(
    `parts:
  - { id: open, mesh: parts/open.stl }
  - { id: block, mesh: parts/block.stl }
  - { id: gone, mesh: parts/gone.stl }
assembly:
  - { part: open }
  - { part: block }
  - { part: block, translate_mm: [8, 0, 0] }
  - { part: gone }
`,
    { 'open.stl': { ...whole, triangles: whole.triangles.slice(3) }, 'block.stl': whole },
  );
  expect(interferences?.map(({ a, b, volume_mm3 }) => [a, b, Math.round(volume_mm3)])).toEqual([
    ['block', 'block#2', 200],
  ]);
  expect(notes.map(({ code }) => code)).toEqual(['assembly-not-a-solid']);
  expect(unplaced).toEqual([{ part: 'gone', why: 'unreadable' }]);
});

it('show tells what is placed, and clearances as measured', async () => {
  const registry = smallRegistry();
  registry.variant(
    'left',
    `parts:
  - { id: plate, mesh: parts/plate.stl, interfaces: [{ id: pivot, kind: bore, nominal_mm: 6.4, mates: axle/shaft, clearance: sliding }] }
  - { id: axle, mesh: parts/axle.stl, interfaces: [{ id: shaft, kind: pin, nominal_mm: 6 }] }
  - { id: spare, mesh: parts/axle.stl }
assembly:
  - { part: plate }
  - { part: axle, translate_mm: [25, 25, -10] }
  - { part: axle, translate_mm: [25, 80, -10] }
`,
    {
      'plate.stl': plateWithHoles(60, 50, 5, [{ x: 25, y: 25, r: throughCorners(6.4) / 2, sides }]),
      'axle.stl': prism(sides, 3, 30),
    },
  );
  const { out } = await runCli(['show', 'cuff/left', '--no-cache', '--json'], registry.folder);
  const page = JSON.parse(out) as { clearances: unknown };
  expect(objections('show', page)).toEqual([]);
  expect(page.clearances).toEqual([
    { seat: 'plate/pivot', takes: 'axle/shaft', declared: 'sliding', clearance_mm: 0.4, verdict: 'tighter' },
  ]);
  const { out: text } = await runCli(['show', 'cuff/left', '--no-cache'], registry.folder);
  expect(text).toContain('placed: plate, 2 × axle; not placed: spare');
  expect(text).toMatch(/plate\/pivot +axle\/shaft +\+0\.40 mm +sliding: tighter/);
});
