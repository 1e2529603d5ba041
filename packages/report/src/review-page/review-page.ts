import type { PartReview, Review, VariantReview } from '@kinprint/registry';
import { policyHash } from '../lineage/policy-hash.ts';
import { element, xml } from '../lineage/xml.ts';
import { plural } from '../terminal/words.ts';
import { findingList } from './finding-list.ts';
import { overview } from './overview.ts';
import { pageStyle } from './page-style.ts';
import { partEntry } from './part-entry.ts';
import type { PartShapes } from './part-shapes.ts';
import { variantHead, variantTail } from './variant-section.ts';

export interface ReviewPageOptions {
  /** The viewer as one script; what `tools/bundle.mjs` makes of `viewer/main.ts`. */
  readonly script: string;
  /** The meshes of a part, asked for one part at a time, when it is written; null where they cannot be had. */
  readonly shapes: (variant: VariantReview, part: PartReview) => Promise<PartShapes | null>;
  /** Called after each part. */
  readonly progress?: (done: number, all: number) => void;
}

/**
 * Writes a review as one HTML page that works offline, from a file: pictures and geometry are in it, it loads nothing, and
 * its Content-Security-Policy allows its own style and script alone, by their hashes. It is written as it goes: the
 * geometry of one part is held at a time.
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
${overview(review)}
<main>
`);
  const all = review.variants.reduce((sum, variant) => sum + changedOf(variant).length, 0);
  let done = 0;
  // The first part that changed is open.
  let opened = false;
  for (const [v, variant] of review.variants.entries()) {
    await write(`${variantHead(variant, `variant-${v + 1}`)}\n`);
    const changed = changedOf(variant);
    if (changed.length > 0) await write('<div class="sub"><h3>Parts</h3></div>\n<div class="parts">\n');
    for (const [p, part] of changed.entries()) {
      const shapes = (await options.shapes(variant, part)) ?? {};
      const findings = review.findings.filter(
        finding => finding.variant === variant.address && finding.part === part.id,
      );
      const open: boolean = !opened && part.comparison !== null;
      if (open) opened = true;
      await write(partEntry({ part, shapes, id: `part-${v + 1}-${p + 1}`, findings, open }));
      options.progress?.(++done, all);
    }
    if (changed.length > 0) await write('</div>\n');
    await write(`${unchanged(variant, changed)}${variantTail(variant)}\n`);
  }
  await write(`${rest(review)}</main>
${foot}
<script>${script}</script>
</body>
</html>
`);
}

/** Parts with something to see. */
function changedOf({ parts }: VariantReview): PartReview[] {
  return parts.filter(({ verdict }) => verdict !== 'identical' && verdict !== 'same-shape');
}

function unchanged({ parts }: VariantReview, changed: readonly PartReview[]): string {
  const others = parts.filter(part => !changed.includes(part));
  if (others.length === 0) return '';
  const names = others.map(({ title, id }) => title ?? id).join(', ');
  return `<p class="sub soft">${xml(`${plural(others.length, 'part')} of the same shape: ${names}.`)}</p>\n`;
}

function rest(review: Review): string {
  const others = review.findings.filter(finding => !finding.blocks);
  const files = review.files.map(({ path, change }) =>
    element('li', {}, `<span class="soft">${change}</span> ${element('span', { class: 'mono' }, xml(path))}`),
  );
  const parts = [
    others.length === 0
      ? ''
      : `<section aria-labelledby="findings"><div class="head"><h2 id="findings">Findings</h2></div>${findingList(others)}</section>`,
    files.length === 0
      ? ''
      : `<section aria-labelledby="files"><div class="head"><h2 id="files">Other files</h2></div><details class="sub"><summary>${xml(plural(files.length, 'file'))}</summary><ul class="texts">${files.join('\n')}</ul></details></section>`,
  ].filter(Boolean);
  return parts.length === 0 ? '' : `${parts.join('\n')}\n`;
}

const foot = `<footer>
<p>Added material is blue with plus signs, removed material vermillion with minus signs: colors of Okabe and Ito (2008). Deviations use Crameri's map vik (2018). Both can be told apart with the common color vision deficiencies.</p>
<p>Files say what changed, not whether a device serves its user. Not a medical device unless somebody licensed says so: have an occupational therapist, prosthetist or other licensed clinician look at fit and use, check skin, small parts and sharp edges, keep it from heat, and make no claim of load beyond recorded evidence.</p>
</footer>`;

/** @throws Error for a script that would end its own element */
function inlineScript(script: string): string {
  if (/<\/script|<!--/i.test(script)) throw new Error('The script of the viewer cannot stand in a page.');
  return script;
}
