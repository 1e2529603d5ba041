import type { AdoptOutcome } from '@kinprint/registry';
import { afterAll, describe, expect, test } from 'vitest';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { box } from '../support/meshes.ts';
import { asked, last, lookAt, parts } from './look.ts';
import { mirrored, scaled, split, wedge } from './things.ts';
import { joined } from '../../packages/mesh/src/testing/motions.ts';

afterAll(removeTemporaryFolders);

const shell = wedge(30, 20, 12);
const clip = wedge(8, 6, 5, 0.5);

describe('hands', () => {
  const hands = ({ plan }: AdoptOutcome) =>
    Object.fromEntries(last(plan.variants[0]).parts.map(part => [part.id, part.hand]));

  test('mirror images named left and right, and what is symmetric fits both', async () => {
    const outcome = await lookAt({
      'shell-left.stl': shell,
      'shell-right.stl': mirrored(shell),
      'pad.stl': box(9, 5, 2),
    });
    expect(hands(outcome)).toEqual({ 'shell-left': 'left', 'shell-right': 'right', pad: 'both' });
    expect(asked(outcome, 'hand')).toEqual([]);
  });

  test('named left and right but no mirror images is told', async () => {
    const outcome = await lookAt({ 'shell-left.stl': shell, 'shell-right.stl': wedge(30, 20, 13, 0.2) });
    expect(asked(outcome, 'hand')).toHaveLength(2);
    expect(asked(outcome, 'hand')[0]).toContain('no mirror image of shell-right.stl');
    expect(last(outcome.plan.variants[0]).parts[0].unsettled).toContain('no mirror image');
    const same = await lookAt({ 'shell-left.stl': shell, 'shell-right.stl': split(shell) });
    expect(asked(same, 'hand')[0]).toContain('both are the same shape');
  });

  test('mirror images without such names are found, and asked about', async () => {
    const outcome = await lookAt({ 'one.stl': shell, 'two.stl': mirrored(split(shell)) });
    expect(hands(outcome)).toEqual({ one: null, two: null });
    expect(asked(outcome, 'hand')).toEqual([
      'one: Mirror image of two.stl: which of the two is the left one?',
      'two: Mirror image of one.stl: which of the two is the left one?',
    ]);
    const half = await lookAt({ 'shell-left.stl': shell, 'other.stl': mirrored(shell) });
    expect(hands(half)).toEqual({ other: 'right', 'shell-left': 'left' });
  });

  test('words of other languages name hands, where the shapes agree', async () => {
    const pairs = [
      ['schale_links.stl', 'schale_rechts.stl'],
      ['coque_gauche.stl', 'coque_droite.stl'],
      ['concha_izquierda.stl', 'concha_derecha.stl'],
      ['guscio_sinistra.stl', 'guscio_destra.stl'],
      ['casca_esquerda.stl', 'casca_direita.stl'],
    ] as const;
    for (const [left, right] of pairs) {
      const outcome = await lookAt({ [left]: shell, [right]: mirrored(shell) });
      expect(Object.values(hands(outcome)).sort()).toEqual(['left', 'right']);
      expect(hands(outcome)[left.replace('.stl', '').replace('_', '-')]).toBe('left');
      expect(asked(outcome, 'hand')).toEqual([]);
    }
    const differ = await lookAt({ 'schale_links.stl': shell, 'schale_rechts.stl': wedge(30, 20, 13, 0.2) });
    expect(asked(differ, 'hand')[0]).toContain('no mirror image of schale_rechts.stl');
    // A chain has links, for no hand.
    const chain = await lookAt({ 'chain-links.stl': shell });
    expect(hands(chain)).toEqual({ 'chain-links': null });
    expect(asked(chain, 'hand')).toEqual([]);
  });

  test('several bodies that are alike may be pieces of one part', async () => {
    const two = joined(box(9, 5, 2), box(9, 5, 2, [20, 0, 0]));
    expect(asked(await lookAt({ 'clips.stl': two }), 'several-bodies')[0]).toContain(
      'alike in volume, area and extent',
    );
    const mixed = joined(clip, box(9, 5, 2, [40, 0, 0]));
    expect(asked(await lookAt({ 'clips.stl': mixed }), 'several-bodies')[0]).toMatch(
      /2 separate bodies: one part/,
    );
  });

  test('hands in folders of their own are variants, one the mirror of the other', async () => {
    const outcome = await lookAt({
      'left/shell.stl': shell,
      'right/shell.stl': mirrored(shell),
      'clip.stl': box(9, 5, 2),
    });
    expect(outcome.plan.variants.map(variant => variant.id)).toEqual(['left', 'right']);
    expect(parts(outcome)).toEqual([
      ['clip', 'shell'],
      ['clip', 'shell'],
    ]);
    expect(last(outcome.plan.variants[1]).derivations).toMatchObject([
      { variant: 'left', letter: 0, relation: 'mirror' },
    ]);
    expect(asked(outcome, 'derivation')).toHaveLength(1);
  });
});

describe('sizes', () => {
  test('named in the folder and in the file: one label, not two', async () => {
    for (const [small, large, labels] of [
      ['small', 'large', ['small', 'large']],
      ['55mm', '62mm', ['55mm', '62mm']],
    ] as const) {
      const outcome = await lookAt({
        [`${small}/cuff_${small}.stl`]: shell,
        [`${small}/lid_${small}.stl`]: wedge(30, 20, 3),
        [`${large}/cuff_${large}.stl`]: scaled(shell, 1.1),
        [`${large}/lid_${large}.stl`]: scaled(wedge(30, 20, 3), 1.1),
      });
      expect(outcome.plan.variants.map(({ id }) => id)).toEqual(labels);
      expect(parts(outcome)).toEqual([
        ['cuff', 'lid'],
        ['cuff', 'lid'],
      ]);
    }
  });

  test('numbers in names, with shapes that grow with them: a variant each, the rest in all', async () => {
    const outcome = await lookAt({
      'cuff_58.stl': shell,
      'cuff_62.stl': wedge(32, 20, 12),
      'lid_58.stl': wedge(30, 20, 3),
      'lid_62.stl': wedge(32, 20, 3),
      'clip.stl': clip,
    });
    expect(outcome.plan.variants.map(({ id, title }) => [id, title])).toEqual([
      ['58', 'Strap holder, 58'],
      ['62', 'Strap holder, 62'],
    ]);
    expect(parts(outcome)).toEqual([
      ['clip', 'cuff', 'lid'],
      ['clip', 'cuff', 'lid'],
    ]);
    expect(last(outcome.plan.variants[0]).files.map(file => file.from)).toEqual([
      'clip.stl',
      'cuff_58.stl',
      'lid_58.stl',
    ]);
    // Parametric sizes are no scaled copies of each other: nothing is claimed.
    expect(last(outcome.plan.variants[1]).derivations).toEqual([]);
    expect(asked(outcome, 'size')).toHaveLength(1);
  });

  test('folders named for sizes', async () => {
    const outcome = await lookAt({
      'large/cuff.stl': scaled(shell, 1.2),
      'small/cuff.stl': shell,
      'small/pin.stl': clip,
      'large/pin.stl': clip,
    });
    expect(outcome.plan.variants.map(variant => variant.id)).toEqual(['small', 'large']);
    expect(parts(outcome)).toEqual([
      ['cuff', 'pin'],
      ['cuff', 'pin'],
    ]);
  });

  test('names alone make no sizes', async () => {
    for (const things of [
      { 'cuff_58.stl': shell, 'cuff_62.stl': clip },
      { 'cuff_58.stl': wedge(32, 20, 12), 'cuff_62.stl': shell },
      { 'pad-1.stl': shell, 'pad-2.stl': wedge(32, 20, 12) },
    ]) {
      const outcome = await lookAt(things);
      expect(outcome.plan.variants.map(variant => variant.id)).toEqual(['standard']);
      expect(asked(outcome, 'size')).toHaveLength(2);
    }
  });

  test('scaled copies make sizes without names, and rescaled ones a link', async () => {
    const outcome = await lookAt({ 'cuff.stl': shell, 'cuff big one.stl': scaled(shell, 1.25) });
    expect(outcome.plan.variants.map(variant => variant.id)).toEqual(['scale-100', 'scale-125']);
    expect(last(outcome.plan.variants[1]).derivations).toMatchObject([
      { variant: 'scale-100', relation: 'rescale', changes: 'Scaled by 1.25.' },
    ]);
    const uneven = await lookAt({ 'cuff.stl': shell, 'cuff more.stl': scaled(shell, 1.125) });
    const { id, title } = uneven.plan.variants[1];
    expect(id).toBe('scale-112-5');
    expect(title).toBe('Strap holder, scaled to 112.5 %');
    const few = await lookAt({
      'a.stl': shell,
      'b.stl': clip,
      'c.stl': wedge(9, 3, 4),
      'pin.stl': wedge(5, 7, 2),
      'pin long.stl': scaled(wedge(5, 7, 2), 2),
    });
    expect(few.plan.variants).toHaveLength(1);
    expect(asked(few, 'size')).toHaveLength(2);
  });

  test('one variant when that is asked for', async () => {
    const things = { 'cuff_58.stl': shell, 'cuff_62.stl': wedge(32, 20, 12) };
    const outcome = await lookAt(things, { oneVariant: true });
    expect(parts(outcome)).toEqual([['cuff-58', 'cuff-62']]);
  });
});

describe('units', () => {
  const units = ({ plan }: AdoptOutcome) => last(plan.variants[0]).parts.map(part => part.unit);

  test('judged by the largest of all files', async () => {
    const inches = await lookAt({ 'shell.stl': scaled(shell, 1 / 25.4), 'clip.stl': scaled(clip, 1 / 25.4) });
    expect(units(inches)).toEqual(['inch', 'inch']);
    expect(asked(inches, 'unit')).toHaveLength(2);
    expect(last(inches.plan.variants[0]).parts[0].unsettled).toContain('Is it in inches?');
    const meters = await lookAt({ 'shell.stl': scaled(shell, 1 / 1000) });
    expect(units(meters)).toEqual(['meter']);
    const small = await lookAt({ 'shell.stl': shell, 'pin.stl': wedge(2, 1, 1.5) });
    expect(units(small)).toEqual([null, null]);
    expect(asked(small, 'unit')).toEqual([
      expect.stringContaining('pin: Is it in millimeters? It is 2.00 mm large'),
    ]);
  });

  test('as the person says', async () => {
    const said = await lookAt({ 'shell.stl': scaled(shell, 1 / 25.4) }, { unit: 'inch' });
    expect(units(said)).toEqual(['inch']);
    expect(asked(said, 'unit')).toEqual([]);
    expect(units(await lookAt({ 'shell.stl': scaled(shell, 0.1) }, { unit: 'millimeter' }))).toEqual([null]);
  });
});
