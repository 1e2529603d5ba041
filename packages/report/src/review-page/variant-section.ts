import type { PartReview, VariantReview } from '@kinprint/registry';
import { element, xml } from '../lineage/xml.ts';
import { plural } from '../terminal/words.ts';
import { table } from './table.ts';
import { answerWords, aspectWords, reprintWords, stepWords, weightMarks } from './words.ts';

/** What became of a variant, up to the list of its parts. */
export function variantHead(variant: VariantReview, id: string): string {
  const { interchange, reprint, against, letter } = variant;
  const letters = [letter.before, letter.after].map(each => each ?? 'not recorded').join(' → ');
  const about = [
    variant.change === 'changed' ? '' : variant.change,
    letter.before === null && letter.after === null ? '' : letters,
    against === null || against.relation === null ? '' : `${against.relation} of ${against.address}`,
  ].filter(Boolean);
  const rows = reprint.filter(each => each.what !== 'keep');
  return `<section id="${id}" aria-labelledby="${id}-title">
<div class="head"><h2 id="${id}-title">${xml(variant.title)}</h2> <span class="mono">${xml(variant.address)}</span> <span class="fine">${xml(about.join(' · '))}</span></div>
<div class="answer">
<div>
<p class="word ${interchange.answer}">${xml(answerWords[interchange.answer])}</p>
<dl class="aspects">${(['form', 'fit', 'function'] as const)
    .map(name => `<dt>${name}</dt><dd>${xml(aspectWords[interchange[name]])}</dd>`)
    .join('')}</dl>
</div>
<div>
${reasons(interchange)}
<p class="soft">${xml(stepWords[variant.step])}</p>
</div>
</div>
${rows.length === 0 ? '' : `<div class="sub"><h3>Who has built it already</h3>${reprintTable(rows)}</div>`}`;
}

export function reasons({ reasons: all }: PartReview['interchange']): string {
  if (all.length === 0) return '';
  const items = all.map(({ weight, text }) => {
    const [mark, said] = weightMarks[weight];
    const name = said === '' ? '' : element('span', { class: 'said' }, xml(`${said} `));
    return element(
      'li',
      { class: weight },
      `<span class="mark" aria-hidden="true">${mark}</span>${name}${xml(text)}`,
    );
  });
  return element('ul', { class: 'reasons' }, items.join('\n'));
}

function reprintTable(rows: VariantReview['reprint']): string {
  return table(
    [
      { head: 'Part' },
      { head: 'Pieces', figures: true },
      { head: 'To do' },
      { head: 'Together with' },
      { head: 'Why' },
    ],
    rows.map(({ part, quantity, what, with: together, why }) => [
      part,
      String(quantity),
      reprintWords[what],
      together.join(', '),
      why,
    ]),
    'What who has built it already must do',
  );
}

/** What stands after the list of parts. */
export function variantTail(variant: VariantReview): string {
  const lists: readonly (readonly [string, readonly string[]])[] = [
    ['Hardware', variant.hardware.map(h => `${h.id}, ${h.change}: ${arrow(h.before, h.after)}`)],
    ['Manifest', variant.manifest],
    [
      'Derivations',
      variant.derivations.map(
        d => `${d.relation} of ${d.from}, ${d.change}${d.changes === null ? '' : `: ${d.changes}`}`,
      ),
    ],
    [
      'Sign-offs',
      variant.signoffs.map(
        s => `${s.state === 'lapses' ? 'Lapses' : 'Stands'}: ${s.role}, ${s.by}, ${s.date} (${s.decision})`,
      ),
    ],
    [
      'Evidence',
      variant.evidence.map(
        e =>
          `${e.state === 'lapses' ? 'Says nothing of the new state' : 'Stands'}: ${e.kind}, ${e.by}, ${e.date}`,
      ),
    ],
    ['Made from it', variant.descendants],
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

function arrow(before: string | null, after: string | null): string {
  if (before === null || after === null) return before ?? after ?? '';
  return before === after ? after : `${before} → ${after}`;
}
