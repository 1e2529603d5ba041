import { lineageDot } from '@kinprint/report';
import { instance } from '@viz-js/viz';
import { describe, expect, test } from 'vitest';
import { lendingGroup } from '../../packages/report/src/testing/lineage-samples.ts';
import { hostileLineage, hostileTitle } from '../support/hostile-lineage.ts';

const about = { registry: 'Lending group "one"', question: null, chosen: [] };

/** What the reference implementation of the DOT language makes of a text, in its own JSON. */
async function drawn(text: string): Promise<{
  readonly label: string;
  readonly objects: readonly { readonly name: string; readonly label: string }[];
  readonly edges: readonly { readonly tail: number; readonly head: number; readonly label: string }[];
}> {
  const viz = await instance();
  return JSON.parse(viz.renderString(text, { format: 'json' })) as Awaited<ReturnType<typeof drawn>>;
}

describe.each([
  ['the lending group', lendingGroup],
  ['names made to break it', hostileLineage],
])('DOT, laid out by Graphviz: %s', (_, graph) => {
  test('every revision is a node, every link goes from the older to the newer', async () => {
    const { label, objects, edges } = await drawn(lineageDot(graph, about));
    expect(label).toContain('Lending group "one"');
    expect(objects.map(({ name }) => name).sort()).toEqual(graph.nodes.map(({ id }) => id).sort());
    const found = edges.map(e => `${objects[e.tail].name} -> ${objects[e.head].name}: ${e.label}`);
    const wanted = graph.edges.map(
      e => `${e.to} -> ${e.from}: ${e.relation}${e.otherDigest ? ', other digest' : ''}`,
    );
    expect(found.sort()).toEqual(wanted.sort());
  });
});

test('a title made to break out is shown as it is', async () => {
  const viz = await instance();
  const svg = viz.renderString(lineageDot(hostileLineage, about), { format: 'svg' });
  const texts = [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text]) => decoded(text));
  expect(texts).toContain(hostileTitle);
});

function decoded(text: string): string {
  return text
    .replace(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)))
    .replaceAll('&quot;', '"')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&');
}
