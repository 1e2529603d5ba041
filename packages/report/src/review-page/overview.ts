import type { Review } from '@kinprint/registry';
import { element, xml } from '../lineage/xml.ts';
import { plural } from '../terminal/words.ts';
import { findingList } from './finding-list.ts';
import { decisionReason, decisionWords } from './words.ts';

/** The head of a page: what is reviewed, and the decision with what stops it. */
export function overview(review: Review): string {
  const { before, after, commits, counts, decision, findings, variants } = review;
  const blocking = findings.filter(finding => finding.blocks);
  const figures: readonly (readonly [number, string, string])[] = [
    [variants.length, 'variant', 'variants'],
    [counts.blocking, 'stops', 'stop'],
    [counts.asks, 'question', 'questions'],
    [counts.errors, 'error', 'errors'],
    [counts.warnings, 'warning', 'warnings'],
    [counts.notes, 'note', 'notes'],
  ];
  const shown = figures.filter(([n], k) => k === 0 || n > 0);
  return `<header>
<p class="over">${xml(review.registry)}</p>
<h1>Review of ${xml(before.name)} → ${xml(after.name)}</h1>
<p class="fine">${xml(states(review, commits))}</p>
<div class="decision ${decision}">
<p class="word">${xml(decisionWords[decision])}</p>
<p class="why">${xml(decisionReason(review))}</p>
<p class="counts">${shown.map(([n, one, many]) => element('span', {}, `<b>${n}</b> ${n === 1 ? one : many}`)).join('')}</p>
</div>
${blocking.length === 0 ? '' : findingList(blocking)}
</header>`;
}

function states({ before, after }: Review, commits: Review['commits']): string {
  const short = ({ name, commit }: Review['before']): string =>
    commit === null || commit.startsWith(name) ? name : `${name} (${commit.slice(0, 12)})`;
  const parts = [`${short(before)} → ${short(after)}`];
  if (commits !== null) parts.push(plural(commits.after, 'commit'));
  if (commits !== null && commits.elsewhere > 0)
    parts.push(`${plural(commits.elsewhere, 'commit')} only on the other branch`);
  return parts.join(' · ');
}
