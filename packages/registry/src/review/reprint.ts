import type { VariantDocument } from '@kinprint/manifest';
import { jointParts, type JointReason } from './assembly-reasons.ts';
import type { PartReview, Reprint } from './types.ts';

/** What somebody who has the device as it was must print to have it as it is now. */
export function reprintList(
  parts: readonly PartReview[],
  after: VariantDocument | null,
  joint: readonly JointReason[],
): Reprint[] {
  return parts.map(part => {
    const quantity = after?.parts.find(({ id }) => id === part.id)?.quantity ?? 1;
    const line = lineOf(part);
    const mates = line.what === 'reprint' ? [...matesOf(part), ...jointParts(part.id, joint)] : [];
    return { part: part.id, quantity, with: [...new Set(mates)], ...line };
  });
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

/** What the changed interfaces of a part mate: `leaf`, and where they have another size `hardware/hinge-screw`, `body`. */
function matesOf({ interfaces }: PartReview): string[] {
  const mates = interfaces.flatMap(({ state, mates: name, declared: { before, after } }) => {
    const resized = state === 'differs' || before?.nominal_mm !== after?.nominal_mm;
    if (name === null || !(resized || state === 'moved' || state === 'gone')) return [];
    const slash = name.indexOf('/');
    if (slash > 0 && !name.startsWith('hardware/')) return [name.slice(0, slash)];
    // A screw is the same wherever its hole went.
    return resized ? [name] : [];
  });
  return [...new Set(mates)];
}
