import { reason, type Reason } from '@kinprint/fit';
import type { Part } from '@kinprint/manifest';
import { listing, mm, place } from '../check/words.ts';
import { reviewDefaults } from './defaults.ts';
import type { PairedPart } from './pair-parts.ts';

/** What of a part's shape and of how it is printed bears on its form and its function. */
export function partReasons(
  pair: PairedPart,
  mass_g: { readonly before: number | null; readonly after: number | null },
): Reason[] {
  return [...formReasons(pair), ...massReasons(mass_g), ...functionReasons(pair)];
}

function formReasons({ verdict, comparison: c, problem }: PairedPart): Reason[] {
  switch (verdict) {
    case 'identical':
    case 'same-shape':
    case 'moved':
      return [];
    case 'added':
      return [reason('part-added', 'The part is new.')];
    case 'removed':
      return [reason('part-removed', 'The part is no longer there.')];
    case 'mirrored':
      return [reason('other-hand', 'The part is the mirror image of what it was.')];
    case 'rescaled':
      return [reason('other-size', `The part is what it was, ${scaleWords(c?.alignment.scale)}.`)];
    case 'replaced':
      return [reason('other-shape', 'Another shape stands in its place.')];
    case 'reworked': {
      const also = [
        ...(c?.alignment.mirrored === true ? [reason('other-hand', 'The part is mirrored.')] : []),
        ...(c?.alignment.kind.endsWith('scale') === true
          ? [reason('other-size', `The part is ${scaleWords(c.alignment.scale)}.`)]
          : []),
      ];
      return [...also, reason('reshaped', `The shape changed${volumeWords(c)}.`)];
    }
    case 'unsound':
      return [reason('not-compared', 'A mesh has no volume, so what material changed cannot be told.')];
    case 'unreadable':
    case 'failed':
      return [reason('not-compared', problem?.text ?? 'The part could not be compared.')];
  }
}

function scaleWords(scale: readonly number[] | undefined): string {
  const factors = [...new Set((scale ?? []).map(factor => String(Number(factor.toFixed(4)))))];
  return factors.length === 1
    ? `scaled by ${factors[0]}`
    : `scaled by ${factors.join(', ')} along x, y and z`;
}

function volumeWords(c: PairedPart['comparison']): string {
  if (c === null) return '';
  const { added_mm3: added, removed_mm3: removed } = c.volume;
  const volumes = [
    added === null || added <= 0 ? '' : `+${added.toFixed(1)} mm³`,
    removed === null || removed <= 0 ? '' : `−${removed.toFixed(1)} mm³`,
  ].filter(Boolean);
  const far = c.deviation === null ? '' : `at most ${mm(c.deviation.max_mm)} mm off`;
  const words = [volumes.join(' '), far].filter(Boolean).join(', ');
  return words === '' ? '' : `: ${words}`;
}

function massReasons({
  before,
  after,
}: {
  readonly before: number | null;
  readonly after: number | null;
}): Reason[] {
  if (before === null || after === null || Math.abs(after - before) <= reviewDefaults.massShare * before)
    return [];
  const share = (100 * (after - before)) / before;
  return [
    reason(
      'heavier-or-lighter',
      `It weighs ${before.toFixed(1)} → ${after.toFixed(1)} g if printed solid (${share > 0 ? '+' : '−'}${Math.abs(share).toFixed(0)} %).`,
    ),
  ];
}

function functionReasons({ before, after, verdict, comparison: c }: PairedPart): Reason[] {
  const reasons: Reason[] = [];
  if (c !== null) {
    const { before_mm, after_mm, after_at } = c.thinnest_wall;
    if (before_mm !== null && after_mm !== null && after_mm < before_mm * (1 - reviewDefaults.wallShare))
      reasons.push(
        reason(
          'wall-thinner',
          `The thinnest wall is ${mm(before_mm)} → ${mm(after_mm)} mm${after_at === null ? '' : `, at ${place(after_at.from_mm)} mm`}.`,
        ),
      );
    const { before_mm2, after_mm2 } = c.overhang;
    const more = before_mm2 === null || after_mm2 === null ? 0 : after_mm2 - before_mm2;
    if (
      before_mm2 !== null &&
      after_mm2 !== null &&
      more > reviewDefaults.overhang_mm2 &&
      more > reviewDefaults.overhangShare * before_mm2
    )
      reasons.push(
        reason(
          'more-overhang',
          `Steep undersides are ${before_mm2.toFixed(0)} → ${after_mm2.toFixed(0)} mm².`,
        ),
      );
  }
  if (before !== null && after !== null) reasons.push(...printReasons(before.part, after.part));
  if (verdict === 'reworked' || verdict === 'replaced' || verdict === 'unsound')
    reasons.push(
      reason(
        'to-be-shown-again',
        'What it bears and how it holds must be shown anew: a shape does not tell.',
      ),
    );
  return reasons;
}

function printReasons(before: Part, after: Part): Reason[] {
  const reasons: Reason[] = [];
  const stated = (value: string | number | undefined): string =>
    value === undefined ? 'none stated' : String(value);
  if (before.material !== after.material)
    reasons.push(
      reason('material-other', `Material: ${stated(before.material)} → ${stated(after.material)}.`),
    );
  const [old, now] = [before.print ?? {}, after.print ?? {}];
  const up = [old.up ?? 'z', now.up ?? 'z'];
  if (up[0] !== up[1])
    reasons.push(
      reason(
        'turned-on-the-printer',
        `It is printed with ${up[1]} up, and was with ${up[0]} up: layers lie otherwise to the load.`,
      ),
    );
  const states = (print: object): boolean => Object.keys(print).some(key => key !== 'up' && key !== 'notes');
  if (states(old) && !states(now))
    return [...reasons, reason('printed-otherwise', 'How it is to be printed is no longer stated.')];
  const settings = (
    ['layer_height_mm', 'walls', 'infill_percent', 'nozzle_mm', 'tolerance_mm', 'supports'] as const
  ).flatMap(key =>
    old[key] === now[key]
      ? []
      : [
          `${key.replace(/_(mm|percent)$/, '').replaceAll('_', ' ')} ${stated(old[key])} → ${stated(now[key])}`,
        ],
  );
  if (settings.length > 0)
    reasons.push(reason('printed-otherwise', `Printed otherwise: ${listing(settings)}.`));
  return reasons;
}
