import type { LineageEdge, LineageGraph, LineageNode } from '@kinprint/registry';
import { headline, subtitle, type LineageAbout } from './about.ts';
import { lineageSvg } from './lineage-svg.ts';
import { policyHash } from './policy-hash.ts';
import { ink, paper } from './palette.ts';
import { fitText, licenseText } from './words.ts';
import { element, xml } from './xml.ts';

const style = `
:root { color-scheme: light; }
body { margin: 0; background: ${paper.page}; color: ${ink.full}; font: 15px/1.45 system-ui, sans-serif; }
figure { margin: 0; overflow-x: auto; }
figure svg { display: block; margin: 0 auto; }
main { padding: 0 56px 56px; }
/* The drawing shows it. */
h1 { position: absolute; width: 1px; height: 1px; margin: 0; overflow: hidden; clip-path: inset(50%); }
h2 { font: 24px/1.3 serif; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: 7px 14px 7px 0; border-bottom: 1px solid ${paper.hair}; }
thead th { border-bottom-color: ${ink.full}; }
tbody th { font: 13px/1.6 ui-monospace, monospace; }
@media print {
  @page { size: landscape; margin: 10mm; }
  figure { overflow: visible; break-after: page; }
  figure svg { width: 100%; height: auto; max-height: 180mm; }
  main { padding: 0; }
  tr { break-inside: avoid; }
  body { font-size: 10pt; }
}
`;

/**
 * The drawing in a page of its own, with a table of all it holds. The page loads nothing and runs nothing: its
 * Content-Security-Policy allows its own style alone, by its hash.
 *
 * @throws InputError `lineage-too-large`
 */
export async function lineageHtml(graph: LineageGraph, about: LineageAbout): Promise<string> {
  const svg = await lineageSvg(graph, about);
  const policy = `default-src 'none'; style-src ${await policyHash(style)}; base-uri 'none'; form-action 'none'`;
  const older = new Map<string, LineageEdge[]>();
  for (const edge of graph.edges) {
    const list = older.get(edge.from);
    if (list === undefined) older.set(edge.from, [edge]);
    else list.push(edge);
  }
  const rows = graph.nodes.map(node => row(node, older.get(node.id) ?? [])).join('\n');
  const heads = [
    'Revision',
    'Title',
    'Status',
    'License',
    'Authors',
    'Hand and size',
    'Recorded',
    'Came from',
  ];
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${xml(headline(about))}: lineage</title>
<style>${style}</style>
</head>
<body>
<header>
<h1>${xml(headline(about))}</h1>
<figure tabindex="0" aria-label="The lineage, drawn">
${svg}</figure>
</header>
<main>
<h2>All revisions</h2>
<p>${xml(subtitle(graph, about))}. Title, license, authors, hand and size are those of the present manifest.</p>
<div class="scroll" tabindex="0" role="region" aria-label="All revisions">
<table>
<thead><tr>${heads.map(text => element('th', { scope: 'col' }, xml(text))).join('')}</tr></thead>
<tbody>
${rows}
</tbody>
</table>
</div>
</main>
</body>
</html>
`;
}

function row(node: LineageNode, edges: readonly LineageEdge[]): string {
  const cells = [
    xml(node.title),
    xml(node.status),
    xml(licenseText(node)),
    xml(node.authors.join(', ')),
    xml([node.hand, fitText(node)].filter(part => part !== null).join(', ')),
    xml([node.date, node.by === null ? null : `by ${node.by}`].filter(part => part !== null).join(' ')),
    edges.map(cameFrom).join('<br>'),
  ];
  const head = element('th', { scope: 'row' }, xml(node.id));
  return element('tr', {}, head + cells.map(cell => element('td', {}, cell)).join(''));
}

function cameFrom({ relation, to, changes, otherDigest }: LineageEdge): string {
  const other = otherDigest ? ' (recorded with another digest)' : '';
  return xml(`${relation} of ${to}${other}${changes === null ? '' : `: ${changes}`}`);
}
