import type { CombinedPart, CombineVariantsReport, DocumentConflict } from '@kinprint/registry';
import { columns, paints, row, wrap, type Style } from '../terminal/layout.ts';
import { clean, plural } from '../terminal/words.ts';
import { conflictLines, facetsText, proofLines } from './combine-text.ts';

/** Values longer than this are cut. */
const shown = 60;

/** Two variants combined, for a terminal. */
export function combineVariantsText(report: CombineVariantsReport, style: Style): string {
  const paint = paints(style);
  const { base, a, b } = report.revisions;
  const open = openKeys(report);
  const word = report.written !== null ? 'combined' : open.length > 0 ? 'conflict' : 'not proven';
  const painted = word === 'combined' ? paint.bold(paint.green(word)) : paint.bold(paint.magenta(word));
  const lines = wrap(`${painted}  ${paint.bold(clean(`${a.address} + ${b.address}`))}`, style.columns);
  const say = (label: string, text: string) => lines.push(row(label, text, style));
  say('base', clean(base.address));
  if (report.written !== null) say('new', clean(`${report.written.address} in ${report.written.folder}`));
  if (report.parts.length > 0) {
    say('parts', plural(report.parts.length, 'part'));
    for (const line of columns(report.parts.map(partCells))) lines.push(`    ${line}`);
  }
  for (const { id, combination } of report.parts)
    for (const conflict of combination?.conflicts ?? [])
      lines.push(...conflictLines(conflict, combination?.changes ?? [], style, `${id}:`));
  for (const conflict of report.conflicts) lines.push(...documentLines(conflict, style));
  for (const { id, combination } of report.parts) {
    const facets = combination?.tessellated ?? null;
    if (facets !== null) say(id, facetsText(facets));
    for (const note of combination?.notes ?? [])
      if (note.code === 'crosses-itself') say(id, clean(note.text));
    const { proof = null, result = null } = combination ?? {};
    if (proof?.holds === false) lines.push(...proofLines(proof, result, style, id));
  }
  if (report.unsettled.length > 0) {
    lines.push('', 'To settle by a person:');
    for (const text of report.unsettled)
      wrap(clean(text), style.columns - 4).forEach((line, k) =>
        lines.push(`${k === 0 ? '  - ' : '    '}${line}`),
      );
  }
  const address = report.written?.address;
  const next =
    address !== undefined
      ? `Then: kinprint check ${address}, kinprint record ${address}`
      : open.length > 0
        ? `Nothing was written. To settle: --take ${open.map(key => `${key}=…`).join(',')}`
        : 'Nothing was written: a combined mesh does not show what it should.';
  lines.push('', ...wrap(clean(next), style.columns));
  return lines.join('\n');
}

/** The keys of what nobody settled yet. */
function openKeys({ parts, conflicts }: CombineVariantsReport): string[] {
  return [
    ...parts.flatMap(({ id, combination }) =>
      (combination?.conflicts ?? []).flatMap(({ number, take }) =>
        take === null ? [`${id}:${number}`] : [],
      ),
    ),
    ...conflicts.flatMap(({ key, take }) => (take === null ? [key] : [])),
  ];
}

function partCells({ id, from, combination }: CombinedPart): string[] {
  return [clean(id), originWords[from], combination === null ? '' : outcome(combination)];
}

const originWords = {
  base: 'unchanged',
  a: 'from A',
  b: 'from B',
  both: 'the same new one in both',
  combined: 'combined',
} as const;

function outcome({ changes, conflicts, proof }: NonNullable<CombinedPart['combination']>): string {
  const open = conflicts.filter(conflict => conflict.take === null).length;
  if (open > 0) return plural(open, 'open conflict');
  const taken = changes.filter(change => change.fate === 'taken' || change.fate === 'agreed').length;
  return proof?.holds === true ? `${taken} of ${plural(changes.length, 'change')}, proven` : 'not proven';
}

function documentLines(conflict: DocumentConflict, style: Style): string[] {
  const { key, take } = conflict;
  const say = take ?? `open: ${clean(key)}=a, =b or =none (the base's)`;
  return [...documentStory(conflict, style), row('take', say, style, 4, 9)];
}

/** A conflict in a manifest or among files, without how to settle it. */
export function documentStory({ key, base, a, b }: DocumentConflict, style: Style): string[] {
  const say = (label: string, text: string) => row(label, text, style, 4, 9);
  return [
    row('conflict', clean(key), style),
    say('base', valueText(base)),
    say('A', valueText(a)),
    say('B', valueText(b)),
  ];
}

function valueText(value: unknown): string {
  if (value === null) return 'not there';
  const text = clean(typeof value === 'string' ? value : JSON.stringify(value));
  return text.length > shown ? `${text.slice(0, shown)}…` : text;
}
