import type { Interchange } from '@kinprint/fit';
import type { Reprint, VariantReview } from '@kinprint/registry';
import { element, xml } from '../lineage/xml.ts';
import { ownersHeading, reviewHeadings } from '../review/heading-words.ts';
import {
  aspects,
  stepSentence,
  swapSentence,
  toldReasons,
  weightWords,
  wholeReasons,
  type ToldReason,
} from '../review/swap-words.ts';
import {
  againstWords,
  derivationLines,
  hardwareLines,
  nothingLookedAt,
  nothingToReprint,
  ownersWork,
  reprintWords,
  vettingLines,
} from '../review/variant-words.ts';
import { plural } from '../terminal/words.ts';
import { table } from './table.ts';

/** What became of a variant, up to the list of its parts. */
export function variantHead(variant: VariantReview, id: string): string {
  const next = [nothingLookedAt(variant), stepSentence(variant.step, variant)].filter(each => each !== null);
  return `<section id="${id}" aria-labelledby="${id}-title">
<div class="head"><h2 id="${id}-title">${xml(variant.title)}</h2> <span class="mono">${xml(variant.address)}</span> <span class="fine">${xml(againstWords(variant))}</span></div>
${answer(variant)}
${next.map(text => `<p class="step">${xml(text)}</p>`).join('\n')}
${owners(variant)}`;
}

function answer(variant: VariantReview): string {
  const sentence = swapSentence(variant);
  if (sentence === null) return '';
  const { interchange } = variant;
  const words = aspects(interchange).map(([name, word]) => `<dt>${name}</dt><dd>${xml(word)}</dd>`);
  const told = reasonList(wholeReasons(interchange));
  return `<div class="answer${told === '' ? ' alone' : ''}">
<div>
<p class="word ${interchange.answer}">${xml(sentence)}</p>
<dl class="aspects">${words.join('')}</dl>
</div>
${told === '' ? '' : `<div>${told}</div>`}
</div>`;
}

/** What keeps old and new of a part from swapping, and what a person must say. */
export function reasons(interchange: Interchange): string {
  return reasonList(toldReasons(interchange));
}

function reasonList(told: readonly ToldReason[]): string {
  if (told.length === 0) return '';
  const items = told.map(each =>
    element('li', { class: each.weight }, `<b>${weightWords(each)}:</b> ${xml(each.text)}`),
  );
  return element('ul', { class: 'reasons' }, items.join('\n'));
}

function owners(variant: VariantReview): string {
  if (variant.reprint.length === 0) return '';
  const work = ownersWork(variant);
  const heading = ownersHeading(variant);
  return `<div class="sub"><h3>${xml(heading)}</h3>${work.length === 0 ? `<p>${nothingToReprint}</p>` : reprintTable(work, variant, heading)}</div>`;
}

function reprintTable(rows: readonly Reprint[], variant: VariantReview, heading: string): string {
  return table(
    [{ head: 'Part' }, { head: 'Pieces', figures: true }, { head: 'To do' }, { head: 'Why' }],
    rows.map(row => [row.part, String(row.quantity), reprintWords(row, variant), row.why]),
    heading,
  );
}

/** What stands after the list of parts. */
export function variantTail(variant: VariantReview): string {
  const lists: readonly (readonly [string, readonly string[]])[] = [
    [reviewHeadings.hardware, hardwareLines(variant)],
    [reviewHeadings.manifest, variant.manifest],
    [reviewHeadings.derivations, derivationLines(variant)],
    [reviewHeadings.vetting, vettingLines(variant)],
    [reviewHeadings.descendants, variant.descendants],
  ];
  const shown = lists.filter(([, lines]) => lines.length > 0);
  return `${shown.map(([name, lines]) => textList(name, lines)).join('\n')}
</section>`;
}

/** Beyond so many lines a list of texts is folded. */
const unfolded = 12;

function textList(name: string, lines: readonly string[]): string {
  const list = element('ul', { class: 'texts' }, lines.map(line => element('li', {}, xml(line))).join('\n'));
  if (lines.length <= unfolded) return `<div class="sub"><h3>${xml(name)}</h3>${list}</div>`;
  return `<div class="sub"><h3>${xml(name)}</h3><details><summary>${xml(plural(lines.length, 'line'))}</summary>${list}</details></div>`;
}
