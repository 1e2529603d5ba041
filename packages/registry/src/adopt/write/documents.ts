import {
  ManifestError,
  writeDocument,
  type Author,
  type DeviceDocument,
  type Part,
  type RevisionEntry,
  type VariantDocument,
} from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import type { AdoptPlan, LetterPlan, PartPlan, Question, VariantPlan } from '../plan/types.ts';
import { oneLine } from '../source/commit-object.ts';
import type { Person } from '../source/types.ts';

/** The text of device.yaml. What a person must settle stands as a comment above it. */
export function deviceText({ device, questions }: AdoptPlan): string {
  const value: DeviceDocument = {
    kinprint: 'device/1',
    title: device.title,
    purpose: device.purpose ?? 'Not yet said.',
    ...(device.cautions.length === 0 ? {} : { cautions: [...device.cautions] }),
  };
  return written(() =>
    writeDocument(
      'device',
      value,
      defined({
        '/purpose': marks(questions, 'purpose'),
        [device.cautions.length === 0 ? '' : '/cautions']: marks(questions, 'cautions'),
      }),
    ),
  );
}

/** A derivation, with the digest of the letter that it names. */
export type SettledDerivation = NonNullable<VariantDocument['derivations']>[number];

/** What a variant's manifest says in one of its letters; without its revisions. */
export function variantValue(
  variant: VariantPlan,
  letter: LetterPlan,
  derivations: readonly SettledDerivation[],
  contacts: boolean,
): VariantDocument {
  return {
    kinprint: 'variant/1',
    title: variant.title,
    ...(letter.license === null ? {} : { license: letter.license }),
    ...(letter.authors.length === 0
      ? {}
      : { authors: letter.authors.map(person => authorOf(person, contacts)) }),
    ...(derivations.length === 0 ? {} : { derivations: [...derivations] }),
    parts: letter.parts.map(partOf),
  };
}

/** The text of a variant.yaml with the letters recorded so far. */
export function variantText(
  plan: AdoptPlan,
  variant: VariantPlan,
  value: VariantDocument,
  revisions: readonly RevisionEntry[],
): string {
  const { questions, source } = plan;
  const whole = questions.filter(question => question.variant === null);
  const own = questions.filter(question => question.variant === variant.id);
  const head = [
    `Adopted from ${oneLine(source.folder, 200)}${source.commit === null ? '' : ` at commit ${source.commit}`}.`,
    value.license === undefined ? marks(whole, 'license') : null,
    value.authors === undefined ? marks(whole, 'authors') : null,
    marks(whole, 'size'),
    marks(own, 'derivation'),
    ...own.filter(question => question.part === null && question.code === 'source').map(mark),
  ];
  const bodies = value.parts.map((part, i): [string, string | null] => [
    `/parts/${i}`,
    lines(
      own
        .filter(
          ({ code, part: id }) => id === part.id && ['several-bodies', 'source', 'no-volume'].includes(code),
        )
        .map(mark),
    ),
  ]);
  return written(() =>
    writeDocument(
      'variant',
      { ...value, revisions: [...revisions] },
      defined({
        '': lines(head),
        ...(value.authors === undefined ? {} : { '/authors': marks(whole, 'authors') }),
        ...Object.fromEntries(bodies),
      }),
    ),
  );
}

function authorOf({ name, contact }: Person, contacts: boolean): Author {
  return contacts && contact !== null ? { name, contact } : { name };
}

function partOf(part: PartPlan): Part {
  return {
    id: part.id,
    ...(part.title === null ? {} : { title: part.title }),
    mesh: part.mesh,
    ...(part.unit === null ? {} : { unit: part.unit }),
    ...(part.source.length === 0 ? {} : { source: [...part.source] }),
    ...(part.hand === null ? {} : { hand: part.hand }),
    ...(part.license === null ? {} : { license: part.license }),
    ...(part.unsettled === null ? {} : { unsettled: part.unsettled }),
  };
}

function marks(questions: readonly Question[], code: Question['code']): string | null {
  return lines(questions.filter(question => question.code === code).map(mark));
}

function mark({ text }: Question): string {
  return `unsettled: ${oneLine(text, 500)}`;
}

function lines(texts: readonly (string | null)[]): string | null {
  const some = texts.filter(text => text !== null);
  return some.length === 0 ? null : some.join('\n');
}

function defined(comments: Readonly<Record<string, string | null>>): Record<string, string> {
  return Object.fromEntries(
    Object.entries(comments).flatMap(([key, text]) => (text === null ? [] : [[key, text]])),
  );
}

/** A plan that no manifest can hold is told as such: a device of more than a thousand parts, say. */
function written(write: () => string): string {
  try {
    return write();
  } catch (error) {
    if (!(error instanceof ManifestError)) throw error;
    throw new InputError(
      'adopt-too-much',
      `What was found fits in no manifest: ${error.message}`,
      'Adopt a folder of it at a time.',
    );
  }
}
