import fc from 'fast-check';
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import { lendingGroup, manyVariants, sampleLineage } from '../testing/lineage-samples.ts';
import { cardsOf } from './cards.ts';
import { lineageHtml } from './lineage-html.ts';
import { lineageSvg } from './lineage-svg.ts';
import { placeCards } from './place-cards.ts';
import { fitLine, fitLines, textWidth } from './text-width.ts';

const about = { registry: 'Lending group', question: null, chosen: [] };

interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  text: string;
}

/** Parses strictly; throws on anything that is not well-formed XML. */
function parse(xml: string): Element[] {
  const parser = new SaxesParser();
  const all: Element[] = [];
  const open: Element[] = [];
  parser.on('error', error => {
    throw error;
  });
  parser.on('opentag', tag => {
    const element = { name: tag.name, attributes: tag.attributes, text: '' };
    all.push(element);
    open.push(element);
  });
  parser.on('text', text => {
    const last = open.at(-1);
    if (last !== undefined) last.text += text;
  });
  parser.on('closetag', () => open.pop());
  parser.write(xml).close();
  return all;
}

const texts = (xml: string): string[] =>
  parse(xml)
    .filter(e => e.name === 'text' || e.name === 'tspan')
    .map(e => e.text);

describe('the drawing of a lineage', () => {
  it('is well-formed, shows every variant with letters, license and status, and each relation as a word', async () => {
    const svg = await lineageSvg(lendingGroup, about);
    const words = texts(svg);
    for (const node of lendingGroup.nodes) expect(words).toContain(node.address);
    for (const word of ['remix', 'mirror', 'rescale', 'combination', 'copy']) expect(words).toContain(word);
    for (const word of [
      'CC-BY-4.0',
      'no license',
      'unrecorded: no letter yet',
      'D missing · B recorded 2021-02-11',
    ])
      expect(words).toContain(word);
    expect(words.some(w => w.includes('Okabe and Ito'))).toBe(true);
    expect(words.filter(w => w === 'A' || w === 'B' || w === 'C' || w === 'D').length).toBeGreaterThanOrEqual(
      21,
    );
  });

  it('is the same to the byte whatever the order of nodes and links', async () => {
    const first = await lineageSvg(lendingGroup, about);
    expect(await lineageSvg(lendingGroup, about)).toBe(first);
    const turned = { nodes: [...lendingGroup.nodes].reverse(), edges: [...lendingGroup.edges].reverse() };
    expect(await lineageSvg(turned, about)).toBe(first);
  });

  it("starts each line at the very letter, on the card's lower edge", async () => {
    const cards = cardsOf(lendingGroup);
    const placed = await placeCards(
      cards,
      cards.links.map(l => l.edge.relation),
    );
    const moves = parse(await lineageSvg(lendingGroup, about))
      .filter(e => e.name === 'path')
      .map(e => e.attributes['d'] ?? '');
    for (const link of cards.links) {
      const card = placed.cards[link.older];
      const bead = card.shape.beads.find(b => b.node === link.olderNode);
      const x = card.x + (bead?.x ?? NaN);
      const stem = moves.filter(d => d.startsWith(`M${Number(x.toFixed(1))} `) && d.includes('q0 6 6 6'));
      expect(stem.length).toBeGreaterThan(0);
    }
  });

  it('lays cards so that none touches another', async () => {
    for (const graph of [lendingGroup, manyVariants(60)]) {
      const cards = cardsOf(graph);
      const { cards: placed } = await placeCards(
        cards,
        cards.links.map(l => l.edge.relation),
      );
      placed.forEach((a, k) =>
        placed.slice(k + 1).forEach(b => {
          const apart =
            a.x + a.shape.width <= b.x ||
            b.x + b.shape.width <= a.x ||
            a.y + a.shape.height <= b.y ||
            b.y + b.shape.height <= a.y;
          expect(apart).toBe(true);
        }),
      );
    }
  });

  it('draws circles and links within one variant', async () => {
    const graph = sampleLineage([
      { address: 'a/one', from: [['a/two@A', 'remix']] },
      { address: 'a/two', from: [['a/one@A', 'remix']] },
      { address: 'a/self', letters: 2, from: [['a/self@B', 'copy']] },
    ]);
    expect(texts(await lineageSvg(graph, about)).filter(t => t === 'remix' || t === 'copy')).toHaveLength(
      3 + 2,
    );
    expect(parse(await lineageSvg({ nodes: [], edges: [] }, about)).length).toBeGreaterThan(5);
  });

  it('tells when there are too many to look at', async () => {
    await expect(lineageSvg(manyVariants(201), about)).rejects.toMatchObject({ code: 'lineage-too-large' });
  });

  it("makes any stranger's text harmless", async () => {
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 60 }),
      fc.constant('</text><script>alert(1)</script>"\'&\u0000\ud800\uffff'),
    );
    await fc.assert(
      fc.asyncProperty(text, text, async (title, license) => {
        const graph = sampleLineage([
          { address: 'a/one', title, more: { license, authors: [title, license] } },
          { address: 'a/two', from: [['a/one@A', 'remix']] },
        ]);
        const hostile = { ...graph, edges: graph.edges.map(edge => ({ ...edge, changes: license })) };
        const svg = await lineageSvg(hostile, { ...about, registry: title });
        const names = new Set(parse(svg).map(e => e.name));
        expect([...names].filter(n => !/^(svg|g|title|desc|rect|path|circle|text|tspan)$/.test(n))).toEqual(
          [],
        );
        const page = await lineageHtml(hostile, { ...about, registry: title });
        expect(page).not.toContain('<script');
      }),
      { numRuns: 40 },
    );
  });
});

describe('the page of a lineage', () => {
  it('allows its own style alone, by the hash of exactly that style, and lists every node', async () => {
    const page = await lineageHtml(lendingGroup, about);
    const style = /<style>([^]*?)<\/style>/.exec(page)?.[1] ?? '';
    const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(style));
    const hash = Buffer.from(digest).toString('base64');
    expect(page).toContain(
      `content="default-src 'none'; style-src 'sha256-${hash}'; base-uri 'none'; form-action 'none'"`,
    );
    expect(page).not.toMatch(/ style=| on[a-z]+=|<script|<link|<img|url\(/);
    for (const node of lendingGroup.nodes) expect(page).toContain(`<th scope="row">${node.id}</th>`);
    expect(page).toContain('mirror of utensil-cuff/right-58@B');
  });
});

describe('text in a drawing', () => {
  it('fits the room it is given, and keeps all of it where there is room', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 80 }), fc.integer({ min: 40, max: 400 }), (text, room) => {
        expect(textWidth(fitLine(text, room, 12), 12)).toBeLessThanOrEqual(room);
        const lines = fitLines(text, room, 12, 3);
        expect(lines.length).toBeLessThanOrEqual(3);
        for (const line of lines) expect(textWidth(line, 12)).toBeLessThanOrEqual(room);
        const whole = fitLines(text, room, 12, 1000);
        expect(whole.join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
      }),
    );
  });

  it('is measured no narrower than the face it reserves room for (DejaVu Sans, advance widths as a browser measures)', () => {
    // Measured once with a canvas at 1000 px; the sum over a line may not fall short.
    expect(textWidth('Utensil cuff', 1000)).toBeGreaterThanOrEqual(
      732 + 392 + 615 + 634 + 521 + 278 + 278 + 318 + 550 + 634 + 352 + 352,
    );
    expect(textWidth('mMW@', 1000)).toBeGreaterThanOrEqual(974 + 863 + 989 + 1000 - 10);
  });
});
