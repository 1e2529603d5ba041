import type { Aspect, Interchange } from '@kinprint/fit';
import type {
  Decision,
  PartReview,
  Reprint,
  Review,
  ReviewFinding,
  Step,
  VariantReview,
} from '@kinprint/registry';
import { num, plural, signed } from '../terminal/words.ts';

/** The whole answer in a sentence. */
export function decisionWords({ decision, counts, variants }: Review): string {
  const { blocking, errors, asks, warnings } = counts;
  const look = [
    errors > 0 ? plural(errors, 'error') : '',
    asks > 0 ? plural(asks, 'question') : '',
    warnings > 0 ? plural(warnings, 'warning') : '',
  ].filter(Boolean);
  switch (decision) {
    case 'blocked':
      return `${plural(blocking, 'finding')} ${blocking === 1 ? 'stands' : 'stand'} in the way.`;
    case 'ask':
      return `Nothing blocks it; a person must look at ${look.join(', ')}.`;
    case 'clear':
      return `Nothing speaks against it, as far as files tell: ${plural(variants.length, 'variant')} changed.`;
    case 'nothing':
      return 'There is no change to review.';
  }
}

export const decisionTitles: Readonly<Record<Decision, string>> = {
  blocked: 'Blocked',
  ask: 'To be decided',
  clear: 'Clear',
  nothing: 'No change',
};

export const answerWords: Readonly<Record<Interchange['answer'], string>> = {
  yes: 'swap',
  no: 'do not swap',
  ask: 'undecided',
};

/** `form changed, fit same, function to be shown`. */
export function aspectWords({ form, fit, function: use }: Interchange): string {
  return `form ${formWords[form]}, fit ${formWords[fit]}, function ${use === 'unknown' ? 'to be shown' : formWords[use]}`;
}

export const formWords: Readonly<Record<Aspect, string>> = {
  same: 'same',
  changed: 'changed',
  unknown: 'undecided',
};

export function interchangeSentence({ change, against, interchange }: VariantReview): string {
  const parts =
    change === 'added' && against !== null
      ? `Its parts and those of ${against.address}`
      : 'Old and new parts';
  switch (interchange.answer) {
    case 'yes':
      return `${parts} swap both ways, as far as files tell.`;
    case 'no':
      return `${parts} do not all swap.`;
    case 'ask':
      return `${parts}: whether they swap, a person must say.`;
  }
}

/** Parts that have something to be told, and the names of those that are as they were. */
export function partsTold(parts: readonly PartReview[]): {
  readonly told: readonly PartReview[];
  readonly asTheyWere: readonly string[];
} {
  const isTold = ({ verdict, interchange }: PartReview): boolean =>
    verdict !== 'identical' || interchange.reasons.length > 0;
  return {
    told: parts.filter(isTold),
    asTheyWere: parts.filter(part => !isTold(part)).map(({ id }) => id),
  };
}

/** Reasons worth a line each; that a part came or went, its verdict says already. */
export function toldReasons({ reasons }: Interchange): Interchange['reasons'] {
  return reasons.filter(
    ({ weight, code }) => weight !== 'says' && code !== 'part-added' && code !== 'part-removed',
  );
}

export function stepSentence(
  step: Step,
  { change, letter }: Pick<VariantReview, 'change' | 'letter'>,
): string | null {
  switch (step) {
    case 'none':
      return change === 'changed' ? 'No design changed; recording a letter is enough.' : null;
    case 'letter':
      if (letter.after !== null) return null;
      return change === 'added'
        ? 'Record its first letter once it is taken.'
        : 'Record the next letter once it is taken.';
    case 'variant':
      return 'By the rule of form, fit and function this is another item: derive a variant for it.';
    case 'person':
      return 'Say whether it is the next letter or a variant of its own, and record the next letter only then.';
  }
}

/** `made from cuff/right@B (remix)`, `since B`. */
export function againstWords({ change, against, letter }: VariantReview): string {
  switch (change) {
    case 'added':
      return against === null
        ? 'new, made from nothing that is at hand'
        : against.relation === null
          ? `beside ${addressWords(against)}`
          : `new, ${against.relation} of ${addressWords(against)}`;
    case 'removed':
      return 'taken away';
    case 'changed':
      return `${oldLetter(against?.letter ?? null, letter.before)} → ${letter.after ?? 'not recorded'}`;
  }
}

function oldLetter(last: string | null, own: string | null): string {
  return own ?? (last === null ? 'unrecorded' : `changed since ${last}`);
}

function addressWords({ address, letter }: NonNullable<VariantReview['against']>): string {
  return letter === null ? address : `${address}@${letter}`;
}

/** What changed of a part in a few words: volumes, mass, wall. */
export function partFigures({ verdict, comparison: c, mass_g, was, id }: PartReview): string {
  const words: string[] = [];
  if (was !== null && was !== id) words.push(`was ${was}`);
  if (c !== null && verdict === 'rescaled')
    words.push(`× ${[...new Set(c.alignment.scale.map(s => num(s, 4)))].join(', ')}`);
  if (c !== null && (verdict === 'reworked' || verdict === 'replaced')) {
    const { added_mm3: added, removed_mm3: removed } = c.volume;
    if (added !== null && added > 0) words.push(`${signed(added, 1)} mm³`);
    if (removed !== null && removed > 0) words.push(`${signed(-removed, 1)} mm³`);
    if (c.deviation !== null) words.push(`≤ ${num(c.deviation.max_mm + c.deviation.max_error_mm)} mm`);
    const { before_mm, after_mm } = c.thinnest_wall;
    if (before_mm !== null && after_mm !== null && Math.abs(before_mm - after_mm) > 0.005)
      words.push(`wall ${num(before_mm)} → ${num(after_mm)} mm`);
  }
  const { before, after } = mass_g;
  if (before !== null && after !== null && Math.abs(after - before) >= 0.05)
    words.push(`${signed(after - before, 1)} g`);
  return words.join(', ');
}

/** `hinge-bore 3.00 → 3.40 mm`, only of those that are not as they were. */
export function interfaceWords({ interfaces }: PartReview): string[] {
  return interfaces.flatMap(({ id, state, declared, measured_mm: { before, after }, moved_mm }) => {
    switch (state) {
      case 'kept':
      case 'unmeasured':
        return [];
      case 'differs':
        return [`${id} ${before === null ? '?' : num(before)} → ${after === null ? '?' : num(after)} mm`];
      case 'moved':
        return [`${id} moved${moved_mm === null ? '' : ` ${num(moved_mm)} mm`}`];
      case 'gone':
        // Whether the mesh still has it, its reason tells.
        return [declared.after === null ? `${id} no longer declared` : `${id} gone`];
      case 'added':
        return [`${id} added`];
    }
  });
}

export function reprintWords({ what, with: mates }: Reprint): string {
  switch (what) {
    case 'keep':
      return 'keep';
    case 'may-keep':
      return 'keep, or reprint to have the change';
    case 'reprint':
      return reprintAlso(mates);
    case 'print':
      return 'print';
    case 'put-away':
      return 'put away';
    case 'ask':
      return 'ask before mixing old and new';
  }
}

/** Nobody prints a screw: what is bought is said by itself. */
function reprintAlso(mates: readonly string[]): string {
  const bought = mates.flatMap(name =>
    name.startsWith('hardware/') ? [name.slice('hardware/'.length)] : [],
  );
  const printed = mates.filter(name => !name.startsWith('hardware/'));
  return [
    printed.length === 0 ? 'reprint' : `reprint, together with ${printed.join(', ')}`,
    ...(bought.length === 0 ? [] : [`needs other hardware: ${bought.join(', ')}`]),
  ].join('; ');
}

/** `devices/cuff/right/variant.yaml:12:5`. */
export function findingPlaceWords({ file, line, column }: ReviewFinding): string | null {
  return file === null
    ? null
    : [file, line, line === null ? null : column].filter(part => part !== null).join(':');
}

export const safetyWords =
  'Files do not tell what a device bears or how it sits on skin: a licensed clinician and a trial do.';
