import type { Interchange } from '@kinprint/fit';
import type { VariantReview } from '@kinprint/registry';
import { element, xml } from '../lineage/xml.ts';
import { plural } from '../terminal/words.ts';
import { table } from './table.ts';
import { againstWords, interchangeSentence, reprintWords, stepSentence } from '../review/review-words.ts';
import { aspectWord, weightMarks } from './words.ts';

/** What became of a variant, up to the list of its parts. */
export function variantHead(variant: VariantReview, id: string): string {
  const { interchange, reprint } = variant;
  const step = stepSentence(variant.step, variant);
  const rows = reprint.filter(each => each.what !== 'keep');
  return `<section id="${id}" aria-labelledby="${id}-title">
<div class="head"><h2 id="${id}-title">${xml(variant.title)}</h2> <span class="mono">${xml(variant.address)}</span> <span class="fine">${xml(againstWords(variant))}</span></div>
${variant.parts.length === 0 || variant.against === null ? '' : answer(variant)}
${step === null ? '' : `<p class="step">${xml(step)}</p>`}
${rows.length === 0 ? '' : `<div class="sub"><h3>${xml(whoHas(variant))}</h3>${reprintTable(rows)}</div>`}`;

  function answer(of: VariantReview): string {
    const aspects = (['form', 'fit', 'function'] as const).map(
      name => `<dt>${name}</dt><dd>${xml(aspectWord(name, interchange[name]))}</dd>`,
    );
    return `<div class="answer">
<div>
<p class="word ${interchange.answer}">${xml(interchangeSentence(of))}</p>
<dl class="aspects">${aspects.join('')}</dl>
</div>
<div>${reasons(interchange)}</div>
</div>`;
  }
}

function whoHas({ change, against }: VariantReview): string {
  const built = change === 'added' && against !== null ? against.address : 'it';
  return `For who has built ${built}`;
}

export function reasons({ reasons: all }: Interchange): string {
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
    [{ head: 'Part' }, { head: 'Pieces', figures: true }, { head: 'To do' }, { head: 'Why' }],
    rows.map(row => [row.part, String(row.quantity), reprintWords(row), row.why]),
    'What who has built it must do',
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
