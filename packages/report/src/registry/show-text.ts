import type { Author, Derivation, Hardware, RevisionEntry } from '@kinprint/manifest';
import type { ClearanceLine, PartLine, VariantPage } from '@kinprint/registry';
import { columns, paints, row, shorten, type Style, wrap } from '../terminal/layout.ts';
import { clean, num, plural, signed, size } from '../terminal/words.ts';

/** Changes of a revision that are shown; all stand in the manifest. */
const changesShown = 6;

/** A variant's page for a terminal. */
export function showText(page: VariantPage, style: Style): string {
  const paint = paints(style);
  const lines: string[] = [];
  const say = (label: string, text: string) => lines.push(row(label, text, style));
  const title = (text: string) => lines.push('', paint.bold(text));

  lines.push(...wrap(clean(page.title), style.columns).map(line => paint.bold(line)));
  const where = `${page.address}${page.letter === null ? '' : `@${page.letter}`}`;
  lines.push(paint.dim(clean(page.registry === null ? where : `${where} · ${page.registry}`)));
  if (page.summary !== null) lines.push('', ...wrap(clean(oneParagraph(page.summary)), style.columns));
  lines.push('');
  if (page.device !== null)
    say('device', clean(`${page.device.title}: ${oneParagraph(page.device.purpose)}`));
  say('standing', standingText(page));
  say('license', licenseText(page));
  for (const [k, author] of page.authors.entries()) say(k === 0 ? 'authors' : '', authorText(author));
  if (page.authors.length === 0) say('authors', paint.dim('nobody is named'));
  for (const [k, item] of page.derivations.entries()) say(k === 0 ? 'from' : '', derivationText(item));
  if (page.fit !== null) say('fit', fitText(page.fit));

  const pieces = page.parts.reduce((sum, part) => sum + part.quantity, 0);
  title(`${plural(page.parts.length, 'part')}${pieces === page.parts.length ? '' : `, ${pieces} pieces`}`);
  const cells = page.parts.map(part => partCells(part, style));
  columns(cells, [0, 3]).forEach((line, k) => {
    lines.push(`  ${line}`);
    const more = partRemarks(page.parts[k], page);
    if (more !== '') lines.push(...wrap(more, style.columns - 6).map(text => `      ${paint.dim(text)}`));
  });
  const placed = placedText(page);
  if (placed !== '' || page.clearances.length > 0) {
    title('Put together, with clearances as measured');
    if (placed !== '') lines.push(...wrap(placed, style.columns - 2).map(line => `  ${line}`));
    for (const line of columns(page.clearances.map(clearanceCells), [2])) lines.push(`  ${line}`);
  }
  if (page.hardware.length > 0) {
    title('Hardware to buy');
    for (const line of columns(page.hardware.map(hardwareCells), [0])) lines.push(`  ${line}`);
    const sums = page.costs.map(cost => `${cost.value.toFixed(2)} ${cost.currency}`);
    const unknown = page.without_cost.length;
    if (sums.length > 0)
      lines.push(`  together ${sums.join(' and ')}${unknown > 0 ? `, and ${unknown} without a price` : ''}`);
  }
  if (page.cautions.length > 0) {
    title('Cautions');
    for (const caution of page.cautions)
      wrap(clean(oneParagraph(caution)), style.columns - 4).forEach((line, k) =>
        lines.push(`${k === 0 ? '  ! ' : '    '}${line}`),
      );
  }
  if (page.revisions.length > 0) {
    title('Revisions');
    for (const entry of [...page.revisions].reverse()) lines.push(...revisionLines(entry, page, style));
  }
  lines.push('', ...wrap(`digest ${page.digest ?? 'unknown'}`, style.columns).map(line => paint.dim(line)));
  return lines.join('\n');
}

function standingText({ standing, letter, commit, folder }: VariantPage): string {
  const { status, last, reason, unfinished } = standing;
  const interrupted =
    unfinished === null
      ? ''
      : ` The recording of ${unfinished} was interrupted: run kinprint record to complete it.`;
  if (letter !== null) {
    const from = commit === null ? 'the present content' : `commit ${commit.slice(0, 12)}, ${clean(folder)}`;
    return `revision ${letter}, from ${from}.${interrupted}`;
  }
  switch (status) {
    case 'unrecorded':
      return `no revision is recorded yet.${interrupted}`;
    case 'recorded':
      return `as recorded as ${last ?? ''}.${interrupted}`;
    case 'changed':
      return `changed since ${last ?? ''}; not recorded.${interrupted}`;
    case 'unknown':
      return `cannot be told: ${clean(reason ?? '')}${interrupted}`;
  }
}

function licenseText({ license, license_from }: VariantPage): string {
  if (license === null) return 'none stated: all rights are reserved by those who made it';
  return `${clean(license)}${license_from === 'registry' ? ', stated for the whole registry' : ''}`;
}

function authorText({ name, roles, contact, url }: Author): string {
  const words = (roles ?? []).map(role => role.replace(/^x-/, '').replaceAll('-', ' '));
  const more = [contact, url].filter(text => text !== undefined).join(', ');
  return clean(
    `${name}${words.length > 0 ? ` (${words.join(', ')})` : ''}${more === '' ? '' : ` · ${more}`}`,
  );
}

const relations: Readonly<Record<Derivation['relation'], string>> = {
  remix: 'a remix of',
  mirror: 'the mirror image of',
  rescale: 'a rescaling of',
  combination: 'combined from',
  copy: 'a copy of',
};

function derivationText({ relation, from, changes, unsettled }: Derivation): string {
  const said = changes === undefined ? '' : `. ${oneParagraph(changes)}`;
  const open = unsettled === undefined ? '' : ` [to settle: ${unsettled}]`;
  return clean(`${relations[relation]} ${from}${said}${open}`);
}

function fitText({ body_measure, base_mm, scales }: NonNullable<VariantPage['fit']>): string {
  const range =
    scales === undefined
      ? ''
      : `; may be scaled from ${num(scales.least)} to ${num(scales.most)}${scales.step === undefined ? '' : ` in steps of ${num(scales.step)}`}`;
  return clean(`${body_measure.replaceAll('-', ' ')} ${num(base_mm, 1)} mm as it is${range}`);
}

/** How many, which, how large, how much, of what. */
function partCells(part: PartLine, style: Style): string[] {
  return [
    `${part.quantity} ×`,
    shorten(clean(part.title ?? part.id), Math.max(12, style.columns - 56)),
    part.size_mm === null ? '—' : `${size(part.size_mm, 1)} mm`,
    part.volume_mm3 === null ? '—' : `${num(part.volume_mm3 / 1000)} cm³`,
    clean([part.material, part.hand].filter(word => word !== undefined).join(', ')),
  ];
}

function partRemarks(part: PartLine, page: VariantPage): string {
  const { print, problem, unsettled, license, authors } = part;
  const settings =
    print === undefined
      ? []
      : [
          print.layer_height_mm === undefined ? '' : `layers ${num(print.layer_height_mm)} mm`,
          print.walls === undefined ? '' : plural(print.walls, 'wall'),
          print.infill_percent === undefined ? '' : `infill ${num(print.infill_percent, 0)} %`,
          print.supports === undefined ? '' : `supports ${print.supports.replace('-', ' ')}`,
          print.up === undefined ? '' : `${print.up} up`,
          print.nozzle_mm === undefined ? '' : `nozzle ${num(print.nozzle_mm)} mm`,
        ];
  return clean(
    [
      part.title === undefined || part.title === part.id ? '' : part.id,
      ...settings,
      license === undefined || license === page.license ? '' : `license ${license}`,
      authors === undefined ? '' : `by ${authors.map(author => author.name).join(', ')}`,
      problem === null ? '' : problem,
      unsettled === undefined ? '' : `to settle: ${unsettled}`,
    ]
      .filter(Boolean)
      .join('; '),
  );
}

/** Which parts are placed, and which are not; empty where none is. */
function placedText({ assembly, parts }: VariantPage): string {
  if (assembly.length === 0) return '';
  const known = new Set(assembly.map(({ part }) => part));
  const apart = parts.map(({ id }) => id).filter(id => !known.has(id));
  const rest = apart.length === 0 ? '' : `; not placed: ${apart.join(', ')}`;
  const copies = [...known].map(id => {
    const count = assembly.filter(({ part }) => part === id).length;
    return count === 1 ? id : `${count} × ${id}`;
  });
  return clean(`placed: ${copies.join(', ')}${rest}`);
}

/** Bore, slot or face, what it takes, how much play, and what was meant. */
function clearanceCells({ seat, takes, clearance_mm, declared, verdict }: ClearanceLine): string[] {
  const meant = declared ?? '';
  const told = verdict === 'tighter' || verdict === 'looser' ? `${meant}: ${verdict}` : meant;
  return [clean(seat), clean(takes), clearance_mm === null ? '—' : `${signed(clearance_mm)} mm`, told];
}

function hardwareCells(item: Hardware): string[] {
  const { quantity, unit, title, size: dimension, standard, unit_cost } = item;
  return [
    unit === undefined || unit === 'piece' ? `${num(quantity, 0)} ×` : `${num(quantity)} ${unit}`,
    clean([title, dimension, standard].filter(word => word !== undefined).join(', ')),
    unit_cost === undefined
      ? ''
      : `${unit_cost.value.toFixed(2)} ${unit_cost.currency} ${unit === undefined || unit === 'piece' ? 'each' : `per ${unit}`}`,
  ];
}

function revisionLines(entry: RevisionEntry, page: VariantPage, style: Style): string[] {
  const paint = paints(style);
  const by = entry.by === undefined ? '' : `  ${clean(entry.by)}`;
  const mark = entry.letter === page.letter ? '  (shown here)' : '';
  const head = `  ${paint.bold(entry.letter.padEnd(2))}  ${entry.date}${by}${mark}`;
  const changes = (entry.changes ?? []).slice(0, changesShown);
  const more = (entry.changes?.length ?? 0) - changes.length;
  return [
    head,
    ...changes.flatMap(change =>
      wrap(clean(change), style.columns - 8).map((line, k) => `${k === 0 ? '      ' : '        '}${line}`),
    ),
    ...(more > 0 ? [`      … and ${more} more`] : []),
  ];
}

function oneParagraph(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}
