import type { HardwareChange, Reprint, VariantReview } from '@kinprint/registry';

/** What it is compared with, in a few words: `new, remix of cuff/right@B`, `B → C`, `changed since B, no letter yet`. */
export function againstWords({ change, against, letter, derivations }: VariantReview): string {
  switch (change) {
    case 'added':
      if (against !== null)
        return against.relation === null
          ? `beside ${addressWords(against)}`
          : `new, ${against.relation} of ${addressWords(against)}`;
      return derivations.length === 0
        ? 'new, derived from nothing'
        : 'new; what it is derived from is not at hand';
    case 'removed':
      return 'taken away';
    case 'changed': {
      const old = letter.before ?? against?.letter ?? null;
      if (letter.before !== null && letter.after !== null)
        return letter.before === letter.after ? letter.after : `${letter.before} → ${letter.after}`;
      if (letter.after !== null) return `now recorded as ${letter.after}`;
      return old === null ? 'no letter yet' : `changed since ${old}, no letter yet`;
    }
  }
}

/** What is said of a variant of which no part could be looked at, as where its manifest cannot be read; else null. */
export function nothingLookedAt({ change, parts }: Pick<VariantReview, 'change' | 'parts'>): string | null {
  return change !== 'removed' && parts.length === 0
    ? 'None of its parts could be looked at; the findings say why.'
    : null;
}

function addressWords({ address, letter }: NonNullable<VariantReview['against']>): string {
  return letter === null ? address : `${address}@${letter}`;
}

/** What somebody who has it must do, part by part; parts that stay are left out. Empty where nothing was compared. */
export function ownersWork({ reprint }: Pick<VariantReview, 'reprint'>): readonly Reprint[] {
  return reprint.filter(({ what }) => what !== 'keep');
}

/** The same as lines: `leaf × 2: reprint parts/leaf.stl. It takes another screw.`, or that there is nothing. */
export function ownersLines(variant: Pick<VariantReview, 'reprint' | 'parts'>): string[] {
  const work = ownersWork(variant);
  if (work.length === 0 && variant.reprint.length > 0) return [nothingToReprint];
  return work.map(
    line =>
      `${line.part}${line.quantity > 1 ? ` × ${line.quantity}` : ''}: ${[reprintWords(line, variant), line.why].filter(Boolean).join('. ')}`,
  );
}

export const nothingToReprint = 'Nothing to reprint.';

/** What to do with one part, and with which file of its folder. */
export function reprintWords(
  { part: id, what, with: mates }: Reprint,
  { parts }: Pick<VariantReview, 'parts'>,
): string {
  const mesh = parts.find(part => part.id === id)?.mesh.after ?? null;
  // From the registry's root: devices, device, variant, then what the manifest says.
  const file = mesh === null ? '' : ` ${mesh.path.split('/').slice(3).join('/')}`;
  switch (what) {
    case 'keep':
      return 'keep';
    case 'may-keep':
      return `keep, or reprint${file} to have the change`;
    case 'reprint':
      return reprintAlso(`reprint${file}`, mates);
    case 'print':
      return `print${file}`;
    case 'put-away':
      return 'put away';
    case 'ask':
      return 'ask before mixing old and new';
  }
}

/** Nobody prints a screw: what is bought is said by itself. */
function reprintAlso(reprint: string, mates: readonly string[]): string {
  const bought = mates.flatMap(name =>
    name.startsWith('hardware/') ? [name.slice('hardware/'.length)] : [],
  );
  const printed = mates.filter(name => !name.startsWith('hardware/'));
  return [
    printed.length === 0 ? reprint : `${reprint}, together with ${printed.join(', ')}`,
    ...(bought.length === 0 ? [] : [`needs other hardware: ${bought.join(', ')}`]),
  ].join('; ');
}

/** `hinge-screw, no longer needed: M3 × 25, 1 piece`. */
export function hardwareLines({ hardware }: Pick<VariantReview, 'hardware'>): string[] {
  return hardware.map(hardwareLine);
}

function hardwareLine({ id, change, before, after }: HardwareChange): string {
  switch (change) {
    case 'added':
      return `${id}, new: ${after ?? ''}`;
    case 'removed':
      return `${id}, no longer needed: ${before ?? ''}`;
    case 'changed':
      return `${id}: ${before ?? ''} → ${after ?? ''}`;
  }
}

/** `remix of cuff/right@B: The rib.`; of what was there before also what is newly or no longer declared. */
export function derivationLines({ change: whole, derivations }: VariantReview): string[] {
  return derivations.map(({ from, relation, changes, change }) => {
    const mark =
      change === 'removed'
        ? 'no longer declared: '
        : change === 'added' && whole === 'changed'
          ? 'new: '
          : '';
    return `${mark}${relation} of ${from}${changes === null ? '' : `: ${changes}`}`;
  });
}

/** `sign-off lapses: Kim Sample, licensed-clinician, 2026-03-14`. */
export function vettingLines({ signoffs, evidence }: Pick<VariantReview, 'signoffs' | 'evidence'>): string[] {
  return [
    ...signoffs.map(
      ({ role, by, date, state, decision }) => `sign-off ${state}: ${by}, ${role}, ${date}, ${decision}`,
    ),
    ...evidence.map(({ kind, by, date, state }) => `${kind} ${state}: ${by}, ${date}`),
  ];
}
