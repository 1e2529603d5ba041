import type { PartReview, Review, VariantReview } from '@kinprint/registry';
import type { PartDrawing, Undrawn } from '../drawing/part-drawing.ts';
import { policyHash } from '../lineage/policy-hash.ts';
import { element, xml } from '../lineage/xml.ts';
import { partedFindings } from '../review/finding-words.ts';
import { findingsHeading, reviewHeadings } from '../review/heading-words.ts';
import { asBeforeWords, partsTold, safetyWords } from '../review/review-words.ts';
import { plural } from '../terminal/words.ts';
import { findingList } from './finding-list.ts';
import { overview } from './overview.ts';
import { pageStyle } from './page-style.ts';
import { partEntry } from './part-entry.ts';
import { variantHead, variantTail } from './variant-section.ts';
import { variantStills } from './variant-stills.ts';

export interface ReviewPageOptions {
  /** The viewer as one script; what `tools/bundle.mjs` makes of `viewer/main.ts`. */
  readonly script: string;
  /** What was drawn of a part that changed; null for one that has no mesh to show. Asked for in the order of the page. */
  readonly drawingOf: (part: PartReview) => Promise<PartDrawing | Undrawn | null>;
}

/**
 * Writes a review as one HTML page that works offline, from a file: pictures and geometry are in it, it loads nothing, and
 * its Content-Security-Policy allows its own style and script alone, by their hashes. It is written as it goes: what was
 * drawn of one part is held at a time.
 */
export async function reviewPage(
  review: Review,
  options: ReviewPageOptions,
  write: (text: string) => Promise<void>,
): Promise<void> {
  const script = inlineScript(options.script);
  const policy = [
    "default-src 'none'",
    `style-src ${await policyHash(pageStyle)}`,
    `script-src ${await policyHash(script)}`,
    'img-src data:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  await write(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${xml(`Review of ${review.before.name} → ${review.after.name}`)}</title>
<style>${pageStyle}</style>
</head>
<body>
${overview(review, await variantStills(review, options.drawingOf))}
<main>
`);
  let done = 0;
  // The first part that changed is open.
  let opened = false;
  for (const [v, variant] of review.variants.entries()) {
    await write(`${variantHead(variant, `variant-${v + 1}`)}\n`);
    const changed = partsTold(variant.parts).told;
    if (variant.parts.length > 0) await write(`<div class="sub"><h3>${reviewHeadings.parts}</h3></div>\n`);
    if (changed.length > 0) await write('<div class="parts">\n');
    for (const part of changed) {
      const findings = review.findings.filter(
        finding => finding.variant === variant.address && finding.part === part.id,
      );
      const open: boolean = !opened && part.comparison !== null;
      if (open) opened = true;
      const drawing = await options.drawingOf(part);
      await write(partEntry({ part, drawing, id: `part-${++done}`, findings, open }));
    }
    if (changed.length > 0) await write('</div>\n');
    await write(`${asBefore(variant)}${variantTail(variant)}\n`);
  }
  await write(`${rest(review)}</main>
${foot}
<script>${script}</script>
</body>
</html>
`);
}

function asBefore({ parts }: VariantReview): string {
  const words = asBeforeWords(parts);
  return words === null ? '' : `<p class="sub soft">${xml(words)}.</p>\n`;
}

function rest(review: Review): string {
  const { others } = partedFindings(review);
  const files = review.files.map(({ path, change }) =>
    element('li', {}, `<span class="soft">${change}</span> ${element('span', { class: 'mono' }, xml(path))}`),
  );
  const parts = [
    files.length === 0
      ? ''
      : `<section aria-labelledby="files"><div class="head"><h2 id="files">${reviewHeadings.files}</h2></div><details class="sub"${files.length > filesShown ? '' : ' open'}><summary>${xml(plural(files.length, 'file'))}</summary><ul class="texts">${files.join('\n')}</ul></details></section>`,
    others.length === 0
      ? ''
      : `<section aria-labelledby="findings"><div class="head"><h2 id="findings">${findingsHeading(review)}</h2></div>${findingList(others)}</section>`,
  ].filter(Boolean);
  return parts.length === 0 ? '' : `${parts.join('\n')}\n`;
}

/** More files than this are folded. */
const filesShown = 12;

const foot = `<footer>
<p>Added material is blue with plus signs, removed material vermillion with minus signs: colors of Okabe and Ito (2008). Deviations use Crameri's map vik (2018). Both can be told apart with the common color vision deficiencies.</p>
<p>${safetyWords} Not a medical device unless somebody licensed says so: have an occupational therapist, prosthetist or other licensed clinician look at fit and use; check skin, small parts and sharp edges; heat softens it; no claim of load beyond recorded evidence; follow local rules.</p>
</footer>`;

/** @throws Error for a script that would end its own element */
function inlineScript(script: string): string {
  if (/<\/script|<!--/i.test(script)) throw new Error('The script of the viewer cannot stand in a page.');
  return script;
}
