import type { LineageGraph } from '@kinprint/registry';
import { describe, expect, it } from 'vitest';
import { width } from '../terminal/layout.ts';
import { lendingGroup, manyVariants, sampleLineage } from '../testing/lineage-samples.ts';
import { lineageDot } from './lineage-dot.ts';
import { lineageMermaid } from './lineage-mermaid.ts';
import { lineageText } from './lineage-text.ts';

const about = { registry: 'Lending group', question: null, chosen: [] };
const style = { columns: 80, color: false };
const text = (graph: LineageGraph): string => lineageText(graph, about, style);

describe('a lineage for a terminal', () => {
  it('names every variant once with its letters, and points to those met again', () => {
    const lines = text(lendingGroup).split('\n');
    const headings = (address: string): string[] =>
      lines.filter(l => l.endsWith(` ${address}`) || l === address);
    for (const { address } of lendingGroup.nodes) expect(headings(address)).toHaveLength(1);
    expect(lines.filter(l => l.includes('see above')).map(l => l.trim().replace(/^[│├└─ ]+/, ''))).toEqual([
      'remix pen-cuff/brush, see above',
      'combination utensil-cuff/right-58-calm, see above',
    ]);
    expect(lines.some(l => l.includes('also combination of utensil-cuff/right-58-rib@B'))).toBe(true);
    const letterLines = lines.filter(l => /^[│ ]*[A-Z–]  (recorded|missing|unrecorded) /.test(l));
    expect(letterLines).toHaveLength(lendingGroup.nodes.length);
  });

  it('looks like this', () => {
    const graph = sampleLineage([
      { address: 'cuff/right', title: 'Cuff', letters: 2, more: { hand: 'right' } },
      {
        address: 'cuff/left',
        title: 'Cuff, mirrored',
        from: [['cuff/right@A', 'mirror']],
        more: { license: null },
      },
    ]);
    expect(lineageText(graph, { ...about, chosen: ['cuff/left@A'] }, style)).toBe(
      [
        'Lending group',
        'Lineage · 2 variants, 3 recorded revisions · last recorded 2021-01-11',
        '',
        'cuff/right',
        '│ Cuff · right',
        '│ A  recorded    2020-01-10  CC-BY-SA-4.0',
        '└─ mirror cuff/left',
        '     Cuff, mirrored',
        '    ▸A  recorded    2021-01-11  no license',
        '  B  recorded    2020-02-10  CC-BY-SA-4.0',
      ].join('\n'),
    );
  });

  it('stays within 80 columns, with deep chains, long words, wide and hostile characters', () => {
    const chain = sampleLineage(
      Array.from({ length: 60 }, (_, k) => ({
        address: `a-device-with-a-name-of-some-length/variant-${k}-with-a-long-name-too`,
        title: k % 2 === 0 ? 'カフ'.repeat(60) : `x${'\u001b[31m'.repeat(20)}`,
        from:
          k === 0
            ? []
            : [
                [
                  `a-device-with-a-name-of-some-length/variant-${k - 1}-with-a-long-name-too@A`,
                  'remix',
                ] as const,
              ],
        more: { license: 'LicenseRef-'.repeat(20) },
      })),
    );
    for (const graph of [chain, lendingGroup, manyVariants(100)]) {
      const out = text(graph);
      expect(Math.max(...out.split('\n').map(width))).toBeLessThanOrEqual(80);
      expect(out.includes('\u001b')).toBe(false);
    }
  });

  it('shows variants in a circle, and names the circle', () => {
    const out = text(
      sampleLineage([
        { address: 'a/one', from: [['a/two@A', 'remix']] },
        { address: 'a/two', from: [['a/one@A', 'remix']] },
      ]),
    );
    expect(out).toContain('circle: a/one@A came from a/two@A came from a/one@A');
    expect(out).toMatch(/^a\/one$/m);
  });

  it('takes 2 000 variants in less than a second of computing, and a chain of 20 000', () => {
    const big = manyVariants(2000);
    const start = process.cpuUsage();
    const lines = text(big).split('\n');
    const used = process.cpuUsage(start); // not the clock: other tests run beside this one
    expect((used.user + used.system) / 1e6).toBeLessThan(1);
    expect(lines.filter(l => / {2}recorded /.test(l)).length).toBeGreaterThan(4000);
    const chain = sampleLineage(
      Array.from({ length: 20_000 }, (_, k) => ({
        address: `d/v${k}`,
        from: k === 0 ? [] : [[`d/v${k - 1}@A`, 'remix'] as const],
      })),
    );
    expect(
      text(chain)
        .split('\n')
        .filter(l => / {2}recorded /.test(l)),
    ).toHaveLength(20_000);
  });
});

describe('a lineage in other languages', () => {
  const hostile = sampleLineage([
    { address: 'a/one', title: 'a "quoted" \\ <b>`title`</b> #1 ]; end\nnew line' },
    { address: 'a/two', from: [['a/one@A', 'mirror']] },
  ]);

  it('is a DOT graph: quotes and backslashes are escaped, time runs along the arrows', () => {
    const dot = lineageDot(hostile, about);
    expect(dot).toContain('"a \\"quoted\\" \\\\ <b>`title`</b> #1 ]; end\\\\u{a}new line"');
    expect(dot).toContain('"a/one@A" -> "a/two@A" [label="mirror", color="#0072B2", style=dotted];');
    // Outside of quoted strings only the words and signs of the language are left.
    const bare = dot.replace(/"(\\.|[^"\\])*"/g, 'S');
    expect(bare).toMatch(/^digraph lineage \{\n( {2}(graph|node|edge|S|S -> S) \[[a-zA-Z=, S+]+\];\n)+\}\n$/);
  });

  it('is a Mermaid flowchart: labels hold no sign that could end them', () => {
    const lines = lineageMermaid(hostile, about).trimEnd().split('\n');
    expect(lines.slice(0, 2)).toEqual(['%% Lending group', 'flowchart LR']);
    for (const line of lines.slice(2))
      expect(line).toMatch(/^ {2}n\d+(\["[^"[\]`]+"\]| [=.-]+>\|"[a-z ,]+"\| n\d+)$/);
    expect(lines.at(-1)).toBe('  n0 -.->|"mirror"| n1');
    expect(lines[2]).toContain('a #34;quoted#34; #92;#92; #60;b#62;#96;title#96;');
  });
});
