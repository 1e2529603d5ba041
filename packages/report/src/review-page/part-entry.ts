import type { PartReview, ReviewFinding } from '@kinprint/registry';
import type { PartDrawing, Undrawn } from '../drawing/part-drawing.ts';
import { movedAtMost } from '../geometry/packed.ts';
import { element, xml } from '../lineage/xml.ts';
import { undrawnWords } from '../drawing/undrawn-words.ts';
import { regionWords } from '../pictures/change-words.ts';
import { namedChangeWords } from '../review/review-words.ts';
import { answerWords } from '../review/swap-words.ts';
import { meaning } from '../terminal/verdict-text.ts';
import { count, num, plural } from '../terminal/words.ts';
import { blockJson } from './block-json.ts';
import { findingList } from './finding-list.ts';
import { image } from './image.ts';
import type { PartData } from './part-data.ts';
import { partFigures } from './part-figures.ts';
import { placesOf } from './places.ts';
import { table } from './table.ts';
import { reasons } from './variant-section.ts';

/** Pieces and places of a part that are listed; the largest come first. */
const listed = 40;

export interface PartEntry {
  readonly part: PartReview;
  /** null for a part that has no mesh to show. */
  readonly drawing: PartDrawing | Undrawn | null;
  /** An id of the page: letters, digits, hyphens. */
  readonly id: string;
  readonly findings: readonly ReviewFinding[];
  /** Whether it is shown without being asked for. */
  readonly open: boolean;
}

/** A part in the list of a page: a line with a small picture, which opens to all that is known of its change. */
export function partEntry({ part, drawing, id, findings, open }: PartEntry): string {
  const title = part.title ?? part.id;
  const drawn = drawing?.kind === 'drawn' ? drawing : null;
  const data: PartData | null = drawn === null ? null : { ...drawn.surfaces, places: placesOf(part) };
  const figures = partFigures(part);
  const side = [
    placeList(part, data),
    figures.length === 0
      ? ''
      : `<h3>Figures</h3>${table([{ head: 'Of all of it' }, { head: 'before → after', figures: true }], figures, `Figures of ${title}`)}`,
  ];
  return `<details class="part" id="${id}"${open ? ' open' : ''}>
<summary>${drawn === null ? '<span class="thumb"></span>' : image(drawn.small, 'thumb', '')}<span><span class="name">${xml(nameOf(part))}</span> <span class="gist">${xml(namedChangeWords(part))}</span></span><span class="verdict ${part.interchange.answer}">${xml(part.verdict)} <small>${part.was === null || part.verdict === 'removed' ? '' : xml(answerWords[part.interchange.answer])}</small></span></summary>
<div class="body">
<p class="meaning">${xml(sentence(part))}</p>
${reasons(part.interchange)}
${findings.length === 0 ? '' : findingList(findings)}
<div class="split"><div class="look">
${drawn === null ? '' : `<figure class="still">${image(drawn.large, '', drawn.large.description)}</figure>`}
${drawing?.kind === 'undrawn' ? `<p>${xml(undrawnWords(drawing))}</p>` : ''}
</div><div>
${side.join('\n')}
</div></div>
${data === null ? '' : `<p class="fine">${xml(truth(data))}</p>\n<script type="application/json" class="geometry">${blockJson(data)}</script>`}
</div>
</details>
`;
}

function nameOf({ id, title, was }: PartReview): string {
  const name = title === null || title === id ? id : `${title} (${id})`;
  return was === null || was === id ? name : `${name}, was ${was}`;
}

function sentence({ comparison, problem, verdict }: PartReview): string {
  if (problem !== null) return `${problem.text} ${problem.remedy}`;
  if (comparison !== null) return meaning(comparison);
  return verdict === 'added' ? 'This part is new.' : verdict === 'removed' ? 'This part is gone.' : '';
}

function placeList({ comparison: c }: PartReview, data: PartData | null): string {
  const regions = c?.regions ?? [];
  const shown = data?.regions ?? [];
  const items = regions.slice(0, listed).map((region, k) => {
    const { what, amount } = regionWords(region, c as NonNullable<typeof c>);
    const text = `<span class="place ${region.kind}"><span class="number">${k + 1}</span><span class="what">${xml(what)}<span class="more">${xml(amount)}</span></span></span>`;
    return element('li', k < shown.length ? { 'data-jump': `region:${k}` } : {}, text);
  });
  const places = (data?.places ?? []).slice(0, listed);
  const others = places.map((place, k) =>
    element('li', { 'data-jump': `place:${k}` }, element('span', { class: 'what' }, xml(place.label))),
  );
  const more = (n: number): string =>
    n > listed ? `<p class="fine">and ${count(n - listed)} more, which are smaller.</p>` : '';
  return [
    items.length === 0
      ? ''
      : `<h3>Added and removed</h3><ol class="places">${items.join('\n')}</ol>${more(regions.length)}`,
    others.length === 0
      ? ''
      : `<h3>Features</h3><ul class="places">${others.join('\n')}</ul>${more(data?.places.length ?? 0)}`,
  ].join('\n');
}

/** How true the geometry of the page is. */
function truth({ geometry }: PartData): string {
  const moved = movedAtMost(geometry);
  const left = geometry.meshes.reduce((sum, mesh) => sum + mesh.left_out, 0);
  const out =
    left === 0
      ? ''
      : ` ${plural(left, 'face')} with a corner that is no place in space ${left === 1 ? 'is' : 'are'} left out.`;
  return `Corners are kept in steps of ${num(geometry.step_mm, 5)} mm, so each is within ${num(moved, 5)} mm of the file.${out}`;
}
