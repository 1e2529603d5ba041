import type { Review } from '@kinprint/registry';
import { element, xml } from '../lineage/xml.ts';
import { commitWords, decisionWords } from '../review/decision-words.ts';
import { partedFindings } from '../review/finding-words.ts';
import { reviewHeadings } from '../review/heading-words.ts';
import { variantRow, variantRowHeads } from '../review/variant-row.ts';
import { plural } from '../terminal/words.ts';
import { findingList } from './finding-list.ts';
import { image } from './image.ts';
import type { VariantStills } from './variant-stills.ts';

/** Blocking findings that are shown at once. */
const shownAtOnce = 5;

/**
 * The head of a page: what is reviewed, the decision, every variant in a line, and what stands in the way.
 *
 * @param stills small pictures of the first variants
 */
export function overview(review: Review, stills: VariantStills): string {
  const { before, after, counts, variants } = review;
  const { title, text, tone } = decisionWords(review);
  const figures: readonly (readonly [number, string, string])[] = [
    [variants.length, 'variant', 'variants'],
    [counts.errors, 'error', 'errors'],
    [counts.asks, 'question', 'questions'],
    [counts.warnings, 'warning', 'warnings'],
    [counts.notes, 'note', 'notes'],
  ];
  const shown = figures.filter(([n]) => n > 0);
  return `<header>
<p class="over">${xml(review.registry)}</p>
<h1>Review of ${xml(before.name)} → ${xml(after.name)}</h1>
<p class="fine">${xml(states(review))}</p>
<div class="decision ${tone}">
<p class="word">${xml(title)}</p>
<p class="why">${xml(text)}</p>
<p class="counts">${shown.map(([n, one, many]) => element('span', {}, `<b>${n}</b> ${n === 1 ? one : many}`)).join('')}</p>
</div>
${variants.length > 1 ? `<nav class="sub" aria-label="Variants">${variantTable(review, stills)}</nav>` : ''}
${blocking(review)}
</header>`;
}

/** What stands in the way, variant by variant. */
function blocking(review: Review): string {
  const findings = partedFindings(review).blocking;
  if (findings.length === 0) return '';
  const first = findingList(findings.slice(0, shownAtOnce));
  const rest = findings.slice(shownAtOnce);
  const more =
    rest.length === 0
      ? ''
      : `<details class="rest"><summary>${plural(rest.length, 'more finding')} in the way</summary>${findingList(rest)}</details>`;
  return `<div class="sub"><h2>${reviewHeadings.blocking}</h2>${first}${more}</div>`;
}

function variantTable(review: Review, stills: VariantStills): string {
  // Narrow pages say a head in front of what does not speak for itself.
  const heads = Object.values(variantRowHeads);
  const rows = review.variants.map((variant, k) => {
    const { what, aspects, changed, answer, inTheWay } = variantRow(variant, review);
    const cells = [what, aspects, changed, answer, String(inTheWay || '')];
    const still = stills.get(variant);
    const picture = still === undefined ? '' : image(still, 'mini', '');
    return `<tr>${stills.size === 0 ? '' : element('td', { class: 'look' }, picture)}<th scope="row"><a href="#variant-${k + 1}">${xml(variant.address)}</a></th>${cells.map((cell, c) => element('td', c < 2 ? {} : { 'data-head': heads[c + 1] }, xml(cell))).join('')}</tr>`;
  });
  const pictured = stills.size === 0 ? '' : '<td></td>';
  return `<div class="scroll"><table class="rows stack"><thead><tr>${pictured}${heads.map(head => element('th', { scope: 'col' }, head)).join('')}</tr></thead>
<tbody>
${rows.join('\n')}
</tbody></table></div>`;
}

/** Which commits the two states are, and how many lie between them; nothing where there are none. */
function states(review: Review): string {
  const named = [review.before, review.after].flatMap(({ name, commit }) =>
    commit === null || commit.startsWith(name) ? [] : [`${name} is ${commit.slice(0, 12)}`],
  );
  return [...named, commitWords(review)].filter(Boolean).join(' · ');
}
