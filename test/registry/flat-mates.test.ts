// Tongues and pins in slots, and faces on faces: hand-computed pairs, and laws of motion.
import { compareAssemblies, type AssemblyReport, type Mate } from '@kinprint/registry';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { joined } from '../../packages/mesh/src/testing/motions.ts';
import { box, prism } from '../../packages/mesh/src/testing/shapes.ts';
import { assembled } from '../../packages/registry/src/testing/assembled.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import '../support/property-seed.ts';

afterAll(removeTemporaryFolders);

/** A tray of 40 × 30 with a groove along x at its middle, `width` wide and 8 deep, its floor at z = 4. */
const tray = (width: number) =>
  joined(
    box(40, 15 - width / 2, 8, [0, 0, 4]),
    box(40, 15 - width / 2, 8, [0, 15 + width / 2, 4]),
    box(40, 30, 4),
  );

interface Placement {
  readonly move?: readonly [number, number, number];
  readonly turn?: { readonly axis: readonly [number, number, number]; readonly degrees: number };
}

const placement = (part: string, { move = [0, 0, 0], turn }: Placement = {}): string =>
  `  - { part: ${part}, translate_mm: [${move.join(', ')}]${turn === undefined ? '' : `, rotate: { axis: [${turn.axis.join(', ')}], degrees: ${turn.degrees} }`} }\n`;

interface Pair {
  readonly slot: number;
  readonly tongue: number;
  readonly clearance?: string;
  readonly lid?: Placement;
  readonly base?: Placement;
  readonly placed?: boolean;
}

/** A tray with its groove, and a lid whose tongue of 40 × `tongue` × 6 hangs down from a plate. */
async function pair({
  slot,
  tongue,
  clearance,
  lid = { move: [0, 15, 12] },
  base = {},
  placed = true,
}: Pair): Promise<AssemblyReport> {
  const asked = clearance === undefined ? '' : `, clearance: ${clearance}`;
  return assembled(
    `parts:
  - id: tray
    mesh: parts/tray.stl
    interfaces:
      - { id: groove, kind: slot, nominal_mm: ${slot}, at_mm: [20, 15, 8], mates: lid/rib${asked} }
  - id: lid
    mesh: parts/lid.stl
    interfaces:
      - { id: rib, kind: tongue, nominal_mm: ${tongue}, at_mm: [20, 0, -3] }
${placed ? `assembly:\n${placement('tray', base)}${placement('lid', lid)}` : ''}`,
    {
      'tray.stl': tray(slot),
      'lid.stl': joined(box(40, 30, 3, [0, -15, 0]), box(40, tongue, 6, [0, -tongue / 2, -6])),
    },
  );
}

const mateOf = ({ mates }: AssemblyReport): Mate => {
  expect(mates).toHaveLength(1);
  return mates[0];
};

describe('a tongue in a slot, by hand', () => {
  it('4.0 in 4.8: 0.8 mm on the width, in line, and nothing interferes', async () => {
    const report = await pair({ slot: 4.8, tongue: 4, clearance: 'sliding' });
    expect(report.interferences).toEqual([]);
    const mate = mateOf(report);
    expect(mate).toMatchObject({
      seat: { kind: 'slot', part: 'tray', interface: 'groove', measured_mm: 4.8 },
      takes: { kind: 'tongue', part: 'lid', interface: 'rib', measured_mm: 4 },
      clearance_mm: 0.8,
      verdict: 'as-asked',
      lines: [{ seat: 'tray', other: 'lid', other_interface: 'rib', overlap_mm: null, in_line: true }],
    });
    expect(mate.lines[0].offset_mm).toBeCloseTo(0, 4);
  });

  it('4.0 in 4.4 is tighter than sliding, in 5.2 looser, in 3.9 it does not go', async () => {
    const verdict = async (slot: number) =>
      mateOf(await pair({ slot, tongue: 4, clearance: 'sliding', placed: false })).verdict;
    expect([await verdict(4.4), await verdict(5.2), await verdict(3.9)]).toEqual([
      'tighter',
      'looser',
      'interference',
    ]);
  });

  it('is out of line by what it is moved across the slot or turned, and not by what it slides along it', async () => {
    const line = async (lid: Placement) =>
      mateOf(await pair({ slot: 4.8, tongue: 4, clearance: 'sliding', lid })).lines[0];
    const across = await line({ move: [0, 15.9, 12] });
    expect(across.offset_mm).toBeCloseTo(0.9, 4);
    expect(across.in_line).toBe(false);
    // Half the play of 0.8, and 0.1 mm.
    expect((await line({ move: [0, 15.45, 12] })).in_line).toBe(true);
    expect((await line({ move: [12, 15, 12] })).in_line).toBe(true);
    const askew = await line({ move: [0, 15, 12], turn: { axis: [0, 0, 1], degrees: 3 } });
    expect(askew.angle_deg).toBeCloseTo(3, 3);
    expect(askew.in_line).toBe(false);
    // Beside the tray altogether.
    expect((await line({ move: [400, 15, 12] })).in_line).toBe(false);
  });

  it('a narrow slot beside twenty larger faces is found at its place', async () => {
    const steps = Array.from({ length: 20 }, (_, k) => box(20, 30, 5 + 3 * k, [60 + 20 * k, 0, 0]));
    const report = await assembled(
      `parts:
  - id: tray
    mesh: parts/tray.stl
    interfaces:
      - { id: groove, kind: slot, nominal_mm: 1.2, at_mm: [10, 15.6, 2], mates: lid/rib, clearance: press }
  - id: lid
    mesh: parts/lid.stl
    interfaces: [{ id: rib, kind: tongue, nominal_mm: 0.9, at_mm: [5, 0.45, 1] }]
`,
      {
        'tray.stl': joined(...steps, box(6, 3, 2, [7, 12, 0]), box(6, 3, 2, [7, 16.2, 0])),
        'lid.stl': box(10, 0.9, 2),
      },
    );
    expect(mateOf(report)).toMatchObject({
      seat: { measured_mm: 1.2 },
      takes: { measured_mm: 0.9 },
      clearance_mm: 0.3,
      verdict: 'as-asked',
    });
  });

  it('ISO 286-2, row over 3 up to 6 mm: H7/g6 leaves 4 to 24 micrometers', async () => {
    const verdict = async (slot: number) =>
      mateOf(await pair({ slot, tongue: 6, clearance: 'H7/g6', placed: false })).verdict;
    expect(await Promise.all([6.004, 6.024, 6.003, 6.025].map(verdict))).toEqual([
      'as-asked',
      'as-asked',
      'tighter',
      'looser',
    ]);
  });
});

describe('round things in a slot', () => {
  const slotted = (inside: string, interfaces: string, more: string, at: string) =>
    assembled(
      `parts:
  - id: tray
    mesh: parts/tray.stl
    interfaces: [{ id: groove, kind: slot, nominal_mm: 3.4, at_mm: [20, 15, 8], ${inside} }]
  - { id: other, mesh: parts/other.stl${interfaces} }
${more}assembly:
  - part: tray
${at}`,
      { 'tray.stl': tray(3.4), 'other.stl': prism(96, 1.5, 20) },
    );

  it('a pin of 3.0 in 3.4, standing or lying along the slot', async () => {
    const shaft = ', interfaces: [{ id: shaft, kind: pin, nominal_mm: 3 }]';
    const at = (placed: string) =>
      slotted('mates: other/shaft, clearance: snug', shaft, '', `  - { part: other, ${placed} }\n`);
    for (const placed of [
      'translate_mm: [20, 15, 4]',
      'translate_mm: [5, 15, 8], rotate: { axis: [0, 1, 0], degrees: 90 }',
    ]) {
      const mate = mateOf(await at(placed));
      expect(mate).toMatchObject({ clearance_mm: 0.4, verdict: 'as-asked', lines: [{ in_line: true }] });
    }
    const leaning = mateOf(await at('translate_mm: [20, 15, 4], rotate: { axis: [1, 0, 0], degrees: 5 }'));
    expect(leaning.lines[0].angle_deg).toBeCloseTo(5, 3);
    expect(leaning.lines[0].in_line).toBe(false);
  });

  it('a screw M3 in 3.4 is a medium hole of ISO 273, and a strap of 3.0 slides not', async () => {
    const bought = (item: string, clearance: string) =>
      slotted(
        `mates: hardware/item, clearance: ${clearance}`,
        '',
        `hardware:\n  - { id: item, title: Item, quantity: 1, ${item} }\n`,
        '',
      );
    expect(mateOf(await bought('size: M3 × 16', 'medium'))).toMatchObject({
      clearance_mm: 0.4,
      verdict: 'as-asked',
    });
    expect(mateOf(await bought('across_mm: 3', 'sliding'))).toMatchObject({
      takes: { kind: 'hardware', across_mm: 3 },
      clearance_mm: 0.4,
      verdict: 'tighter',
    });
  });
});

/** A base of 40 × 30 × 10, and a lid of 20 × 20 × 5 that stands on it, `gap` above. */
async function stacked(gap: number, more = '', base: Placement = {}, turn?: Placement['turn']) {
  return assembled(
    `parts:
  - { id: base, mesh: parts/base.stl, interfaces: [{ id: top, kind: face, at_mm: [20, 15, 10], axis: [0, 0, 1]${more} }] }
  - { id: lid, mesh: parts/lid.stl, interfaces: [{ id: under, kind: face, at_mm: [10, 10, 0], axis: [0, 0, -1], mates: base/top }] }
assembly:
${placement('base', base)}${placement('lid', { move: [10, 5, 10 + gap], ...(turn === undefined ? {} : { turn }) })}`,
    { 'base.stl': box(40, 30, 10), 'lid.stl': box(20, 20, 5) },
  );
}

describe('a face on a face, by hand', () => {
  it('touching, apart and overlapping', async () => {
    for (const [gap, verdict] of [
      [0, 'as-asked'],
      [0.2, 'as-asked'],
      [0.5, 'looser'],
      [-0.5, 'interference'],
    ] as const) {
      const report = await stacked(gap);
      const mate = mateOf(report);
      expect(mate.seat).toMatchObject({ kind: 'face', part: 'base', interface: 'top' });
      expect(mate.takes).toMatchObject({ kind: 'face', part: 'lid', interface: 'under' });
      expect(mate).toMatchObject({ clearance_mm: gap, verdict, lines: [{ in_line: true }] });
      // Half a millimeter over 20 × 20.
      expect(report.interferences?.map(({ volume_mm3 }) => Math.round(volume_mm3))).toEqual(
        gap < 0 ? [200] : [],
      );
    }
  });

  it('a class asks for the gap of one side: half of what it asks for on a diameter', async () => {
    const verdict = async (gap: number) => mateOf(await stacked(gap, ', clearance: sliding')).verdict;
    expect([await verdict(0.2), await verdict(0.3), await verdict(0.5), await verdict(0.6)]).toEqual([
      'tighter',
      'as-asked',
      'as-asked',
      'looser',
    ]);
    expect(mateOf(await stacked(0.4, ', clearance: medium'))).toMatchObject({ verdict: 'unknown' });
  });

  it('upside down, or beside, they do not face each other', async () => {
    const over = mateOf(await stacked(0, '', {}, { axis: [1, 0, 0], degrees: 180 }));
    expect(over).toMatchObject({ clearance_mm: null, verdict: 'unmeasured', lines: [{ in_line: false }] });
    const beside = mateOf(await stacked(0, '', { move: [500, 0, 0] }));
    expect(beside.lines).toMatchObject([{ in_line: false }]);
  });
});

describe('laws', () => {
  it('moving both mates together changes nothing', async () => {
    const still = mateOf(
      await pair({ slot: 4.8, tongue: 4, clearance: 'sliding', lid: { move: [3, 15.2, 12] } }),
    );
    const far = fc.integer({ min: -300, max: 300 });
    const axis = fc.constantFrom(
      [1, 0, 0] as const,
      [0, 1, 0] as const,
      [0, 0, 1] as const,
      [1, 2, 3] as const,
    );
    await fc.assert(
      fc.asyncProperty(
        fc.tuple(far, far, far),
        axis,
        fc.integer({ min: 0, max: 359 }),
        async (by, about, degrees) => {
          const turned = turnedBy(about, degrees);
          const turn = { axis: about, degrees };
          const moved = mateOf(
            await pair({
              slot: 4.8,
              tongue: 4,
              clearance: 'sliding',
              base: { move: by, turn },
              lid: { move: plus(turned([3, 15.2, 12]), by), turn },
            }),
          );
          expect(moved.clearance_mm).toBe(still.clearance_mm);
          expect(moved.verdict).toBe(still.verdict);
          expect(moved.lines[0].in_line).toBe(still.lines[0].in_line);
          expect(moved.lines[0].offset_mm).toBeCloseTo(still.lines[0].offset_mm, 6);
          expect(moved.lines[0].angle_deg).toBeCloseTo(still.lines[0].angle_deg, 6);
        },
      ),
      { numRuns: 12 },
    );
  });

  it('which of the two names the other makes no difference', async () => {
    const meshes = { 'tray.stl': tray(4.8), 'lid.stl': box(40, 4, 6) };
    const lines = (groove: string, rib: string) => `parts:
  - { id: lid, mesh: parts/lid.stl, interfaces: [{ id: rib, kind: tongue, nominal_mm: 4, at_mm: [20, 2, 3]${rib} }] }
  - { id: tray, mesh: parts/tray.stl, interfaces: [{ id: groove, kind: slot, nominal_mm: 4.8, at_mm: [20, 15, 8]${groove} }] }
`;
    const one = await assembled(lines(', mates: lid/rib, clearance: sliding', ''), meshes);
    const other = await assembled(lines('', ', mates: tray/groove, clearance: sliding'), meshes);
    const both = await assembled(
      lines(', mates: lid/rib, clearance: sliding', ', mates: tray/groove'),
      meshes,
    );
    expect(other.mates).toEqual(one.mates);
    expect(both.mates).toEqual(one.mates);
  });

  it('swapping before and after swaps left and entered', async () => {
    const reports = [
      await pair({ slot: 4.8, tongue: 4, clearance: 'sliding' }),
      await pair({ slot: 4.4, tongue: 4, clearance: 'sliding' }),
      await pair({ slot: 4.8, tongue: 4, clearance: 'sliding', lid: { move: [0, 17, 12] } }),
      await stacked(0),
      await stacked(0.6),
      await stacked(-0.6),
    ];
    const index = fc.integer({ min: 0, max: reports.length - 1 });
    const back = { left: 'entered', entered: 'left' } as const;
    const turnedBack = (word: 'left' | 'entered' | null) => (word === null ? null : back[word]);
    fc.assert(
      fc.property(index, index, (i, j) => {
        const key = ({ seat, takes }: { seat: Mate['seat']; takes: string }) =>
          `${seat.part}/${seat.interface} ${takes}`;
        const told = (from: number, to: number) =>
          new Map(compareAssemblies(reports[from], reports[to]).clearances.map(one => [key(one), one]));
        const [there, again] = [told(i, j), told(j, i)];
        expect([...again.keys()].sort()).toEqual([...there.keys()].sort());
        for (const [name, { crossed, line, before, after }] of there) {
          const other = again.get(name);
          expect(other).toMatchObject({ crossed: turnedBack(crossed), line: turnedBack(line) });
          expect(other?.before).toEqual(after);
          expect(other?.after).toEqual(before);
        }
      }),
    );
    // What is asked of the one in the other, mixed: the same pairs, with old and new exchanged.
    const sizes = [
      await pair({ slot: 4.8, tongue: 4, clearance: 'sliding', placed: false }),
      await pair({ slot: 5.8, tongue: 5, clearance: 'sliding', placed: false }),
    ];
    // By hand: 5.8 − 4 and 4.8 − 5.
    expect(
      compareAssemblies(sizes[0], sizes[1]).exchanges.map(one => [one.exchanged, one.clearance_mm]),
    ).toEqual([
      ['seat', 1.8],
      ['other', -0.2],
    ]);
    expect(
      compareAssemblies(sizes[1], sizes[0]).exchanges.map(one => [one.exchanged, one.clearance_mm]),
    ).toEqual([
      ['seat', -0.2],
      ['other', 1.8],
    ]);
    expect(compareAssemblies(sizes[0], sizes[0]).exchanges).toEqual([]);
    const [{ crossed }] = compareAssemblies(reports[3], reports[4]).clearances;
    expect(crossed).toBe('left');
  });
});

type V = readonly [number, number, number];

/** Rodrigues' formula. */
function turnedBy(axis: V, degrees: number): (v: V) => V {
  const l = Math.hypot(...axis);
  const [x, y, z] = axis.map(c => c / l);
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return ([a, b, d]) => {
    const along = (x * a + y * b + z * d) * (1 - c);
    return [
      a * c + (y * d - z * b) * s + x * along,
      b * c + (z * a - x * d) * s + y * along,
      d * c + (x * b - y * a) * s + z * along,
    ];
  };
}

function plus(a: V, b: V): V {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}
