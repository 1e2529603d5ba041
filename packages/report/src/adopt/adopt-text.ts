import { letterAt } from '@kinprint/manifest';
import type { AdoptOutcome, PartPlan, Question, QuestionCode, VariantPlan } from '@kinprint/registry';
import { columns, padEnd, paints, row, shorten, width, wrap, type Style } from '../terminal/layout.ts';
import { clean, plural } from '../terminal/words.ts';

/** Revisions of a variant that are listed; of more, the newest. */
const shownRevisions = 12;

/** What became of a directory or repository: variants, revisions, parts, and what a person must still say. */
export function adoptText({ plan, adopted }: AdoptOutcome, style: Style): string {
  const paint = paints(style);
  const { device, source } = plan;
  const revisions = plan.variants.reduce((sum, variant) => sum + variant.letters.length, 0);
  const lines = [
    paint.bold(clean(`${device.title}`)),
    ...wrap(
      clean(
        `${source.name} ${adopted === null ? 'would become' : 'is now'} devices/${device.id}: ` +
          `${plural(plan.variants.length, 'variant')}, ${plural(revisions, 'revision')}.`,
      ),
      style.columns,
    ),
  ];
  for (const variant of plan.variants) lines.push('', ...variantLines(variant, style));
  lines.push('', paint.bold('For a person to settle, most important first'));
  for (const question of plan.questions) lines.push(...questionLines(question, style));
  const remarks = [
    ...plan.leftOut.map(({ path, why }) => `left out: ${path}: ${why}`),
    ...(plan.otherFiles > 0
      ? [`${plural(plan.otherFiles, 'file')} of other kinds were left where they are.`]
      : []),
    ...plan.notes.map(note => note.text),
    ...(adopted?.notes ?? []),
  ];
  if (remarks.length > 0) lines.push('');
  for (const text of remarks) lines.push(row('note', clean(text), style, 0, 6));
  lines.push(
    '',
    ...wrap(
      adopted === null
        ? 'Dry run: nothing was written.'
        : `${plural(adopted.commits, 'commit')} made, the last ${adopted.commit.slice(0, 12)}. What is unsettled is marked in the manifests.`,
      style.columns,
    ),
  );
  return lines.join('\n');
}

function variantLines(variant: VariantPlan, style: Style): string[] {
  const paint = paints(style);
  const all = variant.letters.map((letter, i) => {
    const first = letter.commits[0];
    return [
      letterAt(i) ?? '',
      first?.date ?? '',
      shorten(clean(first?.author.name ?? ''), 20),
      plural(letter.parts.length, 'part'),
      clean(first?.subject ?? 'as it lies'),
    ];
  });
  const hidden = all.length - shownRevisions;
  const table = columns(hidden > 0 ? all.slice(hidden) : all, [3]).map(
    line => `  ${cut(line, style.columns - 2)}`,
  );
  const last = variant.letters.at(-1);
  return [
    paint.bold(clean(variant.id)) + (variant.title === '' ? '' : `  ${clean(variant.title)}`),
    ...(hidden > 0 ? [`  … ${plural(hidden, 'older revision')}`] : []),
    ...table,
    row('parts', (last?.parts ?? []).map(partWords).join(', '), style),
    row('license', clean(last?.license ?? 'not settled'), style),
    ...(last?.derivations ?? []).map(({ relation, variant: from, letter }) =>
      row('made from', clean(`${from}@${letterAt(letter) ?? ''} (${relation}), as the shapes tell`), style),
    ),
  ];
}

/** What a commit said matters least at its end. */
function cut(line: string, room: number): string {
  const [first, ...rest] = width(line) <= room ? [line] : wrap(line, room - 1);
  return rest.length === 0 ? (first ?? '') : `${first ?? ''}…`;
}

function partWords({ id, hand, unit }: PartPlan): string {
  const facts = [hand === 'both' ? 'both hands' : hand, unit].filter(fact => fact !== null);
  return clean(facts.length === 0 ? id : `${id} (${facts.join(', ')})`);
}

const labels: Readonly<Record<QuestionCode, string>> = {
  license: 'license',
  authors: 'authors',
  'no-volume': 'mesh',
  unit: 'unit',
  hand: 'hand',
  size: 'sizes',
  derivation: 'made from',
  purpose: 'purpose',
  cautions: 'cautions',
  source: 'model',
  'same-content': 'twice',
  'older-version': 'version',
  'several-bodies': 'bodies',
  'left-out': 'left out',
};

function questionLines({ code, variant, part, text }: Question, style: Style): string[] {
  const about = [variant, part].filter(word => word !== null).join(' ');
  const label = `  ${padEnd(labels[code], 10)} `;
  const room = Math.max(20, style.columns - label.length);
  return wrap(clean(about === '' ? text : `${about}: ${text}`), room).map((line, k) =>
    k === 0 ? label + line : ' '.repeat(label.length) + line,
  );
}
