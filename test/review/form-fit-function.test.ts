// The cases of the trade's rule of form, fit and function (test/reference/manifest/interchangeability.yaml), each played
// through with meshes and manifests of an invented cuff.
import { readFileSync } from 'node:fs';
import type { Mesh } from '@kinprint/mesh';
import { afterAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { joined, scaled, shuffled, randomFrom } from '../../packages/mesh/src/testing/motions.ts';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { review, twoStates } from './support.ts';

afterAll(removeTemporaryFolders);

interface Case {
  readonly id: string;
  readonly expected: string;
}
const source = new URL('../reference/manifest/interchangeability.yaml', import.meta.url);
const cases = (parse(readFileSync(source, 'utf8')) as { readonly cases: readonly Case[] }).cases;
const expectedOf = (id: string): string => cases.find(each => each.id === id)?.expected ?? '';

const hole = { x: 10, y: 10, r: 1.6, sides: 64 };
const plate = plateWithHoles(40, 20, 5, [hole]);
const pivot = (nominal: number, tolerance = '') =>
  `{ id: pivot, kind: bore, nominal_mm: ${nominal}, at_mm: [10, 10, 0], axis: [0, 0, 1], scale: hold${tolerance} }`;
const lines = (interfaces: string, more = '', below = ''): string =>
  `parts:\n  - id: shell\n    mesh: parts/shell.stl\n${more}    interfaces:\n      - ${interfaces}\n${below}`;
const inX = (mesh: Mesh): Mesh => {
  const positions = mesh.positions.map((v, k) => (k % 3 === 0 ? -v : v));
  const triangles = Uint32Array.from(mesh.triangles);
  for (let t = 0; t < triangles.length; t += 3)
    [triangles[t], triangles[t + 1]] = [triangles[t + 1], triangles[t]];
  return { positions, triangles };
};
/** A plate with a lump, which has no mirror plane left. */
const handed = joined(plate, box(6, 4, 4, [30, 2, 5]), box(3, 9, 2, [33, 8, 5]));

interface State {
  readonly lines: string;
  readonly mesh?: Mesh;
}
async function played(before: State, after: State) {
  const registry = twoStates(
    r => r.variant('left', before.lines, { 'shell.stl': before.mesh ?? plate }),
    r => r.variant('left', after.lines, { 'shell.stl': after.mesh ?? before.mesh ?? plate }),
  );
  const answer = await review(registry);
  expect(answer.review.variants).toHaveLength(1);
  const [variant] = answer.review.variants;
  return {
    ...answer,
    variant,
    reasons: variant.parts.flatMap(part => part.interchange.reasons.map(({ code }) => code)),
  };
}

const asIs: State = { lines: lines(pivot(3.2)) };
const slotted = (width: number): State => ({
  mesh: joined(box(70, 30, 3), box(15, 30, 12, [0, 0, 3]), box(15, 30, 12, [15 + width, 0, 3])),
  lines: lines(
    `{ id: strap, kind: slot, nominal_mm: ${width}, at_mm: [${15 + width / 2}, 15, 9], scale: hold }`,
  ),
});

describe('form, fit and function', () => {
  it(`F01 a word in the manifest: ${expectedOf('F01')}`, async () => {
    const { variant, exit } = await played(asIs, { lines: `${asIs.lines}summary: Holds a spoon.\n` });
    expect(variant.interchange).toMatchObject({ answer: 'yes', form: 'same', fit: 'same', function: 'same' });
    expect(variant).toMatchObject({ step: 'none', manifest: ['summary: added'] });
    expect(variant.reprint).toMatchObject([{ what: 'keep' }]);
    expect(exit).toBe(0);
  });

  it(`F02 the mesh exported again: ${expectedOf('F02')}`, async () => {
    const { variant } = await played(asIs, { ...asIs, mesh: shuffled(plate, randomFrom(7)) });
    expect(variant.parts[0].verdict).toBe('identical');
    expect(variant.parts[0].mesh.before?.sha256).not.toBe(variant.parts[0].mesh.after?.sha256);
    expect(variant).toMatchObject({ step: 'none', interchange: { answer: 'yes', form: 'same' } });
    expect(variant.reprint).toMatchObject([{ what: 'keep' }]);
  });

  it(`F03 a lump where no interface is: ${expectedOf('F03')}`, async () => {
    const { variant, exit } = await played(asIs, { ...asIs, mesh: joined(plate, box(8, 8, 6, [28, 6, 5])) });
    expect(variant.parts[0].verdict).toBe('reworked');
    expect(variant).toMatchObject({
      step: 'letter',
      interchange: { answer: 'yes', form: 'changed', fit: 'same', function: 'unknown' },
    });
    expect(variant.reprint).toMatchObject([{ what: 'may-keep' }]);
    expect(exit).toBe(0);
  });

  it(`F04 limits within the old ones: ${expectedOf('F04')}`, async () => {
    const { variant, reasons } = await played(asIs, {
      lines: lines(pivot(3.2, ', tolerance_mm: { plus: 0.05, minus: 0.05 }')),
    });
    expect(reasons).toEqual(['limits-narrowed']);
    expect(variant).toMatchObject({ step: 'letter', interchange: { answer: 'yes' } });
  });

  it(`F05 wider limits: ${expectedOf('F05')}`, async () => {
    const { variant, reasons, exit } = await played(asIs, {
      lines: lines(pivot(3.2, ', tolerance_mm: { plus: 0.2, minus: 0.1 }')),
    });
    expect(reasons).toEqual(['limits-widened']);
    expect(variant).toMatchObject({ step: 'variant', interchange: { answer: 'no', fit: 'changed' } });
    expect(exit).toBe(1);
  });

  it(`F06 a wider slot: ${expectedOf('F06')}`, async () => {
    const { variant, reasons, exit, text } = await played(slotted(20), slotted(25));
    expect(reasons).toContain('limits-widened');
    expect(reasons).toContain('interface-differs');
    const [strap] = variant.parts[0].interfaces;
    expect(strap.measured_mm.before).toBeCloseTo(20, 6);
    expect(strap.measured_mm.after).toBeCloseTo(25, 6);
    expect(variant.step).toBe('variant');
    expect(variant.reprint).toMatchObject([{ what: 'reprint' }]);
    expect(text).toContain('strap 20.00 → 25.00 mm');
    expect(exit).toBe(1);
  });

  it(`F07 another scale: ${expectedOf('F07')}`, async () => {
    const { variant, reasons } = await played(asIs, { ...asIs, mesh: scaled(plate, 1.1) });
    expect(variant.parts[0].verdict).toBe('rescaled');
    expect(reasons).toContain('other-size');
    expect(variant.step).toBe('variant');
  });

  it(`F08 the other hand: ${expectedOf('F08')}`, async () => {
    const { variant, reasons } = await played({ ...asIs, mesh: handed }, { ...asIs, mesh: inX(handed) });
    expect(variant.parts[0].verdict).toBe('mirrored');
    expect(reasons).toContain('other-hand');
    expect(variant.step).toBe('variant');
  });

  it(`F09 another material: ${expectedOf('F09')}`, async () => {
    const { variant, reasons, exit } = await played(
      { lines: lines(pivot(3.2), '    material: petg\n') },
      { lines: lines(pivot(3.2), '    material: nylon\n') },
    );
    expect(reasons).toEqual(['material-other']);
    expect(variant).toMatchObject({
      step: 'person',
      interchange: { answer: 'ask', form: 'same', fit: 'same' },
    });
    expect(exit).toBe(0);
  });

  it(`F10 turned on the printer: ${expectedOf('F10')}`, async () => {
    const { variant, reasons } = await played(
      { lines: lines(pivot(3.2), '    print: { up: z }\n') },
      { lines: lines(pivot(3.2), '    print: { up: x }\n') },
    );
    // Whether the rated load changes no file tells: a person must.
    expect(reasons).toEqual(['turned-on-the-printer']);
    expect(variant.step).toBe('person');
  });

  it(`F13 M3 replaced by M4: ${expectedOf('F13')}`, async () => {
    const screw = (size: string) =>
      `hardware:\n  - { id: screw, title: Screw, quantity: 1, size: ${size} }\n`;
    const takes = (nominal: number) => pivot(nominal, ', mates: hardware/screw');
    const wide = plateWithHoles(40, 20, 5, [{ ...hole, r: 2.15 }]);
    const { variant, reasons } = await played(
      { lines: lines(takes(3.2), '', screw('M3 × 16')) },
      { lines: lines(takes(4.3), '', screw('M4 × 16')), mesh: wide },
    );
    expect(reasons).toContain('interface-differs');
    expect(variant.hardware).toEqual([
      { id: 'screw', change: 'changed', before: 'Screw, M3 × 16, 1 piece', after: 'Screw, M4 × 16, 1 piece' },
    ]);
    // For the part, and for all that it belongs to.
    expect(variant.parts[0].interchange.answer).toBe('no');
    expect(variant.interchange).toMatchObject({ answer: 'no', reasons: [{ code: 'hardware-other' }] });
    expect(variant.reprint).toMatchObject([{ what: 'reprint', with: ['hardware/screw'] }]);
  });
});
