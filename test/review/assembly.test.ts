import { afterAll, describe, expect, it } from 'vitest';
import type { Mesh } from '@kinprint/mesh';
import { joined } from '../../packages/mesh/src/testing/motions.ts';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { box, prism } from '../../packages/mesh/src/testing/shapes.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { review, twoStates } from './support.ts';

afterAll(removeTemporaryFolders);

const plate = (d: number): Mesh => plateWithHoles(40, 20, 5, [{ x: 10, y: 10, r: d / 2, sides: 96 }]);
/** A pin of 3 mm that stands on z = 0, 12 mm long. */
const pin = prism(96, 1.5, 12);
const lines = (bore: number): string => `parts:
  - id: plate
    mesh: parts/plate.stl
    interfaces:
      - { id: pivot, kind: bore, nominal_mm: ${bore}, at_mm: [10, 10, 0], axis: [0, 0, 1], mates: pin/shaft, clearance: sliding }
  - id: pin
    mesh: parts/pin.stl
    interfaces:
      - { id: shaft, kind: pin, nominal_mm: 3, at_mm: [0, 0, 5], axis: [0, 0, 1] }
assembly:
  - part: plate
  - { part: pin, translate_mm: [10, 10, -3] }
`;

describe('parts put together', () => {
  it('a bore that became too tight for its pin is a lost clearance', async () => {
    const registry = twoStates(
      r => r.variant('left', lines(3.8), { 'plate.stl': plate(3.8), 'pin.stl': pin }),
      r => r.variant('left', lines(3.4), { 'plate.stl': plate(3.4), 'pin.stl': pin }),
    );
    const { review: answer, exit } = await review(registry);
    const [variant] = answer.variants;
    const [mate] = variant.assembly?.clearances ?? [];
    expect(mate).toMatchObject({ takes: 'pin/shaft', crossed: 'left' });
    // Across the flats of the bore less the corners of the pin, by hand: 3.4 cos(π/96) − 3.
    expect(mate.after?.clearance_mm).toBeCloseTo(3.4 * Math.cos(Math.PI / 96) - 3, 2);
    expect(variant.parts[0].interchange.reasons.map(({ code }) => code)).toContain('clearance-lost');
    expect(variant.interchange).toMatchObject({ answer: 'no', fit: 'changed' });
    expect(variant.reprint).toMatchObject([
      // The pin is as it was: another one would not help.
      { part: 'plate', what: 'reprint', with: [] },
      { part: 'pin', what: 'keep' },
    ]);
    expect(exit).toBe(1);
  });

  it('a hole that became too wide for the thread of its screw, and one that was and no longer is', async () => {
    const screwed = (bore: number): string => `parts:
  - id: plate
    mesh: parts/plate.stl
    interfaces:
      - { id: hole, kind: bore, nominal_mm: ${bore}, tolerance_mm: { plus: 0.5, minus: 0.5 }, at_mm: [10, 10, 0], axis: [0, 0, 1], mates: hardware/screw, clearance: thread }
hardware:
  - { id: screw, title: Screw, quantity: 1, size: M3 × 16 }
`;
    const state = (bore: number) => (r: Parameters<Parameters<typeof twoStates>[0]>[0]) => {
      r.variant('left', screwed(bore), { 'plate.stl': plate(bore) });
    };
    const { review: answer } = await review(twoStates(state(2.5), state(2.9)));
    const [lost] = answer.variants[0].parts[0].interchange.reasons.filter(
      ({ code }) => code === 'clearance-lost',
    );
    // ISO 724, M3: D1 = 2.459 mm. Across the flats of 96 sides 2.5 is 2.4987 and 2.9 is 2.8984 mm:
    // (3 − 2.4987) / 0.541266 = 93 %, (3 − 2.8984) / 0.541266 = 19 %.
    expect(lost.text).toBe(
      "The bore 'hole' and hardware/screw: the hole is 2.50 → 2.90 mm; 93 % → 19 % of the thread's height take hold.",
    );
    const { review: back } = await review(twoStates(state(2.9), state(2.5)));
    expect(back.variants[0].assembly?.clearances).toMatchObject([{ crossed: 'entered' }]);
    expect(back.variants[0].parts[0].interchange.reasons.map(({ code }) => code)).not.toContain(
      'clearance-lost',
    );
  });

  it('a slot that became too tight for its tongue, and faces that no longer touch', async () => {
    const state = (width: number, rise: number) => (r: Parameters<Parameters<typeof twoStates>[0]>[0]) => {
      r.variant(
        'left',
        `parts:
  - id: tray
    mesh: parts/tray.stl
    interfaces:
      - { id: groove, kind: slot, nominal_mm: 4.8, tolerance_mm: { plus: 0.5, minus: 0.5 }, at_mm: [20, 15, 10], mates: lid/rib, clearance: sliding }
      - { id: rim, kind: face, at_mm: [20, 6, 12], axis: [0, 0, 1], tolerance_mm: { plus: 0.1, minus: 0.1 }, mates: lid/under }
  - id: lid
    mesh: parts/lid.stl
    interfaces:
      - { id: rib, kind: tongue, nominal_mm: 4, at_mm: [20, 0, -3] }
      - { id: under, kind: face, at_mm: [20, 8, 0], axis: [0, 0, -1] }
assembly:
  - part: tray
  - { part: lid, translate_mm: [0, 15, ${12 + rise}] }
`,
        {
          'tray.stl': joined(
            box(40, 30, 4),
            box(40, 15 - width / 2, 8, [0, 0, 4]),
            box(40, 15 - width / 2, 8, [0, 15 + width / 2, 4]),
          ),
          'lid.stl': joined(box(40, 30, 3, [0, -15, 0]), box(40, 4, 6, [0, -2, -6])),
        },
      );
    };
    const { review: answer } = await review(twoStates(state(4.8, 0), state(4.4, 0.5)));
    const [variant] = answer.variants;
    expect(variant.assembly?.clearances).toMatchObject([
      { seat: { kind: 'slot', interface: 'groove' }, takes: 'lid/rib', crossed: 'left' },
      { seat: { kind: 'face', interface: 'rim' }, takes: 'lid/under', crossed: 'left' },
    ]);
    const lost = [...variant.parts.flatMap(part => part.interchange.reasons), ...variant.interchange.reasons]
      .filter(({ code }) => code === 'clearance-lost')
      .map(({ text }) => text);
    expect(lost).toEqual([
      "The slot 'groove' and lid/rib: the clearance on the width is 0.80 mm → 0.40 mm; 'sliding' asks for 0.60 to 1.00 mm.",
      "The face 'rim' and lid/under: the gap between them, as they are placed, is 0.00 mm → 0.50 mm; they touch, within the tolerances of both.",
    ]);
    expect(variant.interchange.answer).toBe('no');
  });

  it('a bore and its pin that grew alike: each goes with its own, and neither with the old other', async () => {
    const wide = lines(3.8).replaceAll(
      'axis: [0, 0, 1]',
      'axis: [0, 0, 1], tolerance_mm: { plus: 2, minus: 2 }',
    );
    const registry = twoStates(
      r => r.variant('left', wide, { 'plate.stl': plate(3.8), 'pin.stl': pin }),
      r => r.variant('left', wide, { 'plate.stl': plate(4.8), 'pin.stl': prism(96, 2, 12) }),
    );
    const { review: answer } = await review(registry);
    const [variant] = answer.variants;
    // Declared limits are wide, so only the pairs tell: 4.8 cos(π/96) − 3 = 1.80, and 3.8 cos(π/96) − 4 = −0.20.
    const lost = variant.parts[0].interchange.reasons.filter(({ code }) => code === 'clearance-lost');
    expect(lost.map(({ text }) => text)).toEqual([
      "A new bore 'pivot' does not go with an old pin/shaft, though each goes with its own: the clearance on the diameter would be 1.80 mm, where 0.60 to 1.00 mm is asked.",
      "An old bore 'pivot' does not go with a new pin/shaft, though each goes with its own: the clearance on the diameter would be -0.20 mm, where 0.60 to 1.00 mm is asked.",
    ]);
    expect(variant.interchange.answer).toBe('no');
    expect(variant.reprint).toMatchObject([
      { part: 'plate', what: 'reprint', with: ['pin'] },
      { part: 'pin', what: 'reprint', with: ['plate'] },
    ]);
  });

  it('a lump in the way of its neighbor is a new interference, with volume and place', async () => {
    const neighbor = box(10, 20, 5);
    const two = `parts:
  - { id: plate, mesh: parts/plate.stl }
  - { id: stop, mesh: parts/stop.stl }
assembly:
  - part: plate
  - { part: stop, translate_mm: [25, 0, 7] }
`;
    const registry = twoStates(
      r => r.variant('left', two, { 'plate.stl': plate(3), 'stop.stl': neighbor }),
      r =>
        r.variant('left', two, {
          'plate.stl': joined(plate(3), box(4, 4, 3, [28, 8, 5])),
          'stop.stl': neighbor,
        }),
    );
    const { review: answer, text } = await review(registry);
    const [variant] = answer.variants;
    // The lump reaches from z = 5 to 8, the stop stands from 7 on: 4 × 4 × 1 mm.
    expect(variant.assembly?.interferences).toMatchObject([{ change: 'new', a: 'plate', b: 'stop' }]);
    expect(variant.assembly?.interferences?.[0].after?.volume_mm3).toBeCloseTo(16, 3);
    expect(variant.parts[0].interchange.reasons.map(({ code }) => code)).toContain('interference-new');
    expect(text.replace(/\s+/g, ' ')).toContain(
      "'plate' and 'stop' claim the same space as they are placed: 16.00 mm³",
    );
  });
});
