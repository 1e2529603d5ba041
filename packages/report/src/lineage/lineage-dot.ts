import type { LineageGraph, LineageNode, Relation } from '@kinprint/registry';
import { clean } from '../terminal/words.ts';
import { headline, type LineageAbout } from './about.ts';
import { lineStyle } from './palette.ts';
import { licenseText } from './words.ts';

/** A lineage in the DOT language (graphviz.org/doc/info/lang.html): time runs from left to right. */
export function lineageDot(graph: LineageGraph, about: LineageAbout): string {
  const lines = [
    'digraph lineage {',
    `  graph [rankdir=LR, label=${shown(headline(about))}, labelloc=t];`,
    '  node [shape=box, style=rounded, fontname="sans-serif"];',
    '  edge [fontname="sans-serif"];',
    ...graph.nodes.map(node => `  ${quoted(node.id)} [label=${label(node)}${nodeStyle(node)}];`),
    ...graph.edges.map(({ from, to, relation, otherDigest }) => {
      const word = otherDigest ? `${relation}, other digest` : relation;
      return `  ${quoted(to)} -> ${quoted(from)} [label=${shown(word)}, ${edgeStyle(relation)}];`;
    }),
    '}',
  ];
  return `${lines.join('\n')}\n`;
}

/** A quoted string to be shown: there an ampersand begins an entity of HTML. */
function shown(text: string): string {
  return quoted(text.replaceAll('&', '&amp;'));
}

/** A quoted string. In labels a backslash begins an escape, so it is doubled; ids hold none. */
function quoted(text: string): string {
  return `"${clean(text).replaceAll('\\', '\\\\').replaceAll('"', '\\"')}"`;
}

function label(node: LineageNode): string {
  return [node.id, node.title, `${node.status} · ${licenseText(node)}`].map(shown).join(' + "\\n" + ');
}

function nodeStyle({ status }: LineageNode): string {
  return status === 'recorded' || status === 'vetted' ? '' : ', style="rounded,dashed"';
}

function edgeStyle(relation: Relation): string {
  const { color, dash, cap } = lineStyle(relation);
  const style = dash === undefined ? 'solid' : cap === 'round' ? 'dotted' : 'dashed';
  return `color="${color}", style=${style}`;
}
