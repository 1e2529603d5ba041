import type { InterfaceReview, PartReview } from '@kinprint/registry';
import { regionWords } from '../pictures/change-words.ts';
import { alignmentText, otherHandOrSize } from '../terminal/compare-text.ts';
import { num, plural, signed } from '../terminal/words.ts';

/** Parts that have something to be told, and those that are as they were, if exported again. */
export function partsTold(parts: readonly PartReview[]): {
  readonly told: readonly PartReview[];
  readonly asTheyWere: readonly PartReview[];
} {
  const isAsItWas = ({ verdict, interchange }: PartReview): boolean =>
    (verdict === 'identical' || verdict === 'same-shape') && interchange.reasons.length === 0;
  return { told: parts.filter(part => !isAsItWas(part)), asTheyWere: parts.filter(isAsItWas) };
}

/** `As before: shell, buckle (exported again)`; null where no part is. */
export function asBeforeWords(parts: readonly PartReview[]): string | null {
  const { asTheyWere } = partsTold(parts);
  const names = asTheyWere.map(({ id, verdict }) =>
    verdict === 'identical' ? id : `${id} (exported again)`,
  );
  return names.length === 0 ? null : `As before: ${names.join(', ')}`;
}

/** `was band; hinge-bore 3.00 → 3.40 mm; +12.0 mm³`: what changed of a part, in a line. */
export function partChangeWords(part: PartReview): string {
  const { was, id } = part;
  return [was === null || was === id ? '' : `was ${was}`, namedChangeWords(part)].filter(Boolean).join('; ');
}

/**
 * The same under a part's own name, which tells what it was called: its interfaces; where none changed, the largest piece
 * or the motion; then the sums.
 */
export function namedChangeWords(part: PartReview): string {
  const { comparison: c, problem } = part;
  if (problem !== null) return problem.text;
  const words = interfaceWords(part);
  if (c !== null && c.verdict !== 'replaced') {
    const [largest, ...others] = c.regions;
    if (largest === undefined || c.verdict === 'rescaled') words.push(alignmentText(c.alignment));
    else if (words.length === 0) {
      const more = others.length === 0 ? '' : ` and ${plural(others.length, 'more place')}`;
      words.push(`${regionWords(largest, c).what}${more}`);
    }
  }
  return [...words, partFigures(part)].filter(Boolean).join('; ');
}

/**
 * Volumes, mass and wall in a few words. Volumes are those after the motion that makes the two coincide, so where that is
 * more than a move, it comes first: `scaled by 1.12, then +28.0 mm³, −106.8 mm³`.
 */
function partFigures({ verdict, comparison: c, mass_g }: PartReview): string {
  const words: string[] = [];
  if (c !== null && (verdict === 'reworked' || verdict === 'replaced')) {
    const { added_mm3: added, removed_mm3: removed } = c.volume;
    if (added !== null && added > 0) words.push(`${signed(added, 1)} mm³`);
    if (removed !== null && removed > 0) words.push(`${signed(-removed, 1)} mm³`);
    const first = verdict === 'reworked' ? otherHandOrSize(c.alignment) : '';
    if (first !== '' && words.length > 0) words[0] = `${first}, then ${words[0]}`;
    else if (first !== '') words.push(first);
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
  return interfaces.flatMap(face => {
    const { id, state, measured_mm, moved_mm } = face;
    const { before, after } = measured_mm;
    switch (state) {
      case 'kept':
      case 'unmeasured':
        return [];
      case 'differs':
        return [`${id} ${before === null ? '?' : num(before)} → ${after === null ? '?' : num(after)} mm`];
      case 'moved':
        return [`${id} moved${moved_mm === null ? '' : ` ${num(moved_mm)} mm`}`];
      case 'gone':
      case 'added':
        return [`${id} ${interfaceStateWords(face)}`];
    }
  });
}

/** What became of an interface, in a word or a few. */
export function interfaceStateWords({
  state,
  declared,
}: Pick<InterfaceReview, 'state' | 'declared'>): string {
  switch (state) {
    case 'kept':
      return 'kept';
    case 'differs':
      return 'other size';
    case 'moved':
      return 'moved';
    case 'gone':
      // Whether the mesh still has it, its reason tells.
      return declared.after === null ? 'no longer declared' : 'gone';
    case 'added':
      return 'newly declared';
    case 'unmeasured':
      return 'cannot be measured';
  }
}

export const safetyWords =
  'Files do not tell what a device bears or how it sits on skin: a licensed clinician and a trial do.';
