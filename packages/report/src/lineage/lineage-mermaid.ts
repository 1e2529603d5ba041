import type { LineageGraph, LineageNode } from '@kinprint/registry';
import { clean } from '../terminal/words.ts';
import { headline, type LineageAbout } from './about.ts';
import { licenseText } from './words.ts';

/** A lineage as a Mermaid flowchart (mermaid.js.org/syntax/flowchart.html), for pages that render it. */
export function lineageMermaid(graph: LineageGraph, about: LineageAbout): string {
  const numberOf = new Map(graph.nodes.map((node, k) => [node.id, k]));
  const lines = [`%% ${clean(headline(about)).replaceAll('%', '')}`, 'flowchart LR'];
  graph.nodes.forEach((node, k) => lines.push(`  n${k}["${nodeText(node)}"]`));
  for (const { from, to, relation, otherDigest } of graph.edges) {
    const [older, newer] = [numberOf.get(to), numberOf.get(from)];
    if (older === undefined || newer === undefined) continue;
    const arrow =
      relation === 'revision' ? '==>' : relation === 'mirror' || relation === 'copy' ? '-.->' : '-->';
    lines.push(`  n${older} ${arrow}|"${relation}${otherDigest ? ', other digest' : ''}"| n${newer}`);
  }
  return `${lines.join('\n')}\n`;
}

function nodeText(node: LineageNode): string {
  return [node.id, node.title, `${node.status} · ${licenseText(node)}`].map(escaped).join('<br/>');
}

/**
 * Everything that could end the text, or be read as markup, as a numeric entity in Mermaid's writing. Labels are read as
 * Markdown after that, where a backslash stands for itself only when doubled.
 */
function escaped(text: string): string {
  const doubled = clean(text).replaceAll('\\', '\\\\');
  return doubled.replace(/[#"&<>`[\]{}|\\;*_]/g, c => `#${c.charCodeAt(0)};`);
}
