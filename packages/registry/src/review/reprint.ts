import type { VariantDocument } from '@kinprint/manifest';
import { jointParts, type JointReason } from './assembly-reasons.ts';
import type { PartReview, Reprint } from './types.ts';

/**
 * What somebody who has the device as it was must print to have it as it is now. A part that does not go with the old rest
 * names what else changed of that rest: printing again what is as it was would help nobody.
 *
 * @param hardware ids of what must be bought otherwise
 */
export function reprintList(
  parts: readonly PartReview[],
  after: VariantDocument | null,
  joint: readonly JointReason[],
  hardware: readonly string[],
): Reprint[] {
  const changed = new Set([
    ...parts.filter(({ verdict }) => !isAsItWas(verdict)).map(({ id }) => id),
    ...hardware.map(id => `hardware/${id}`),
  ]);
  return parts.map(part => {
    const quantity = after?.parts.find(({ id }) => id === part.id)?.quantity ?? 1;
    const line = lineOf(part);
    const mates = line.what === 'reprint' ? [...matesOf(part), ...jointParts(part.id, joint)] : [];
    return { part: part.id, quantity, with: [...new Set(mates)].filter(name => changed.has(name)), ...line };
  });
}

function isAsItWas(verdict: PartReview['verdict']): boolean {
  return verdict === 'identical' || verdict === 'same-shape' || verdict === 'moved';
}

function lineOf(part: PartReview): Pick<Reprint, 'what' | 'why'> {
  const { verdict, interchange } = part;
  const why = interchange.reasons[0]?.text ?? '';
  switch (verdict) {
    case 'identical':
    case 'same-shape':
    case 'moved':
      if (interchange.answer === 'yes') return { what: 'keep', why: 'It is as it was.' };
      break;
    case 'added':
      return { what: 'print', why: 'It is new.' };
    case 'removed':
      return { what: 'put-away', why: 'It is no longer used.' };
    case 'mirrored':
    case 'rescaled':
    case 'reworked':
    case 'replaced':
    case 'unsound':
    case 'unreadable':
    case 'failed':
      break;
  }
  switch (interchange.answer) {
    case 'yes':
      return { what: 'may-keep', why: 'Old and new swap as far as files tell.' };
    case 'no':
      return { what: 'reprint', why };
    case 'ask':
      return { what: 'ask', why };
  }
}

/** What the changed interfaces of a part mate: `leaf`, `hardware/hinge-screw`, `body`. */
function matesOf({ interfaces }: PartReview): string[] {
  return interfaces.flatMap(({ state, mates: name, declared: { before, after } }) => {
    const changed = state === 'differs' || state === 'moved' || state === 'gone';
    if (name === null || !(changed || before?.nominal_mm !== after?.nominal_mm)) return [];
    const slash = name.indexOf('/');
    return [slash > 0 && !name.startsWith('hardware/') ? name.slice(0, slash) : name];
  });
}
