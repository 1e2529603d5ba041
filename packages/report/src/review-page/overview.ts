import type { Review, ReviewFinding, VariantReview } from '@kinprint/registry';
import { element, xml } from '../lineage/xml.ts';
import { plural } from '../terminal/words.ts';
import { findingList } from './finding-list.ts';
import {
  againstWords,
  answerWords,
  aspectWords,
  decisionTitles,
  decisionWords,
} from '../review/review-words.ts';

/** Blocking findings that are shown at once. */
const shownAtOnce = 5;

/** The head of a page: what is reviewed, the decision, what stops it, and every variant in a line. */
export function overview(review: Review): string {
  const { before, after, commits, counts, decision, variants } = review;
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
<p class="fine">${xml(states(review, commits))}</p>
<div class="decision ${decision}">
<p class="word">${xml(decisionTitles[decision])}</p>
<p class="why">${xml(decisionWords(review))}</p>
<p class="counts">${shown.map(([n, one, many]) => element('span', {}, `<b>${n}</b> ${n === 1 ? one : many}`)).join('')}</p>
</div>
${variants.length > 1 ? `<nav class="sub" aria-label="Variants">${variantTable(review)}</nav>` : ''}
${blocking(review)}
</header>`;
}

/** What stands in the way, variant by variant. */
function blocking(review: Review): string {
  const order = new Map(review.variants.map(({ address }, k) => [address, k]));
  const placeOf = ({ variant }: ReviewFinding): number => order.get(variant ?? '') ?? -1;
  const findings = review.findings.filter(each => each.blocks).sort((a, b) => placeOf(a) - placeOf(b));
  if (findings.length === 0) return '';
  const first = findingList(findings.slice(0, shownAtOnce));
  const rest = findings.slice(shownAtOnce);
  if (rest.length === 0) return first;
  return `${first}<details class="rest"><summary>${plural(rest.length, 'more finding')} in the way</summary>${findingList(rest)}</details>`;
}

function variantTable({ variants, findings }: Review): string {
  const inTheWay = ({ address }: VariantReview): number =>
    findings.filter(each => each.blocks && each.variant === address).length;
  const rows = variants.map((variant, k) => {
    const changed = variant.parts.filter(({ verdict }) => verdict !== 'identical').length;
    const answer = variant.against === null ? '' : answerWords[variant.interchange.answer];
    const cells = [
      againstWords(variant),
      variant.against === null ? '' : aspectWords(variant.interchange),
      `${changed} of ${variant.parts.length}`,
      answer,
      String(inTheWay(variant) || ''),
    ];
    return `<tr><th scope="row"><a href="#variant-${k + 1}">${xml(variant.address)}</a></th>${cells.map(cell => element('td', {}, xml(cell))).join('')}</tr>`;
  });
  return `<div class="scroll"><table class="rows stack"><thead><tr>${['Variant', 'What', 'Form, fit, function', 'Parts changed', 'Old and new', 'In the way'].map(head => element('th', { scope: 'col' }, head)).join('')}</tr></thead>
<tbody>
${rows.join('\n')}
</tbody></table></div>`;
}

/** Which commits the two states are, and how many lie between them; nothing where there are none. */
function states({ before, after }: Review, commits: Review['commits']): string {
  const named = [before, after].flatMap(({ name, commit }) =>
    commit === null || commit.startsWith(name) ? [] : [`${name} is ${commit.slice(0, 12)}`],
  );
  if (commits !== null) named.push(plural(commits.after, 'commit'));
  if (commits !== null && commits.elsewhere > 0)
    named.push(`${plural(commits.elsewhere, 'commit')} only on the other branch`);
  return named.join(' · ');
}
