import { decode } from 'fast-png';
import fc from 'fast-check';
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import { fitLettering, lettering, wrapLettering } from './lettering.ts';
import { partPicture } from './part-picture.ts';
import { sheetPng } from './png.ts';
import { scaleBar } from './scale-bar.ts';
import { sheetPixels } from './sheet-pixels.ts';
import type { Item, Sheet } from './sheet.ts';
import { sheetSvg } from './svg.ts';
import { squareOn } from './directions.ts';
import { box, nothing } from './testing/shapes.ts';

function sheet(items: readonly Item[]): Sheet {
  return { width: 60, height: 40, background: '#FFFFFF', title: 't', description: 'd', items };
}

/** Area in pixels that black items cover on white. */
function inked(items: readonly Item[]): number {
  return sheetPixels(sheet(items)).data.reduce((sum, v) => sum + (255 - v) / 255, 0) / 3;
}

describe('coverage', () => {
  it('of a filled triangle is its area', () => {
    const outline = [5.3, 4.1, 50.7, 11.9, 21.2, 35.6];
    const [ax, ay, bx, by, cx, cy] = outline;
    const area = Math.abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / 2;
    expect(Math.abs(inked([{ kind: 'fill', color: '#000000', outline }]) / area - 1)).toBeLessThan(5e-3);
  });

  it('of a line is its length times its width, and half a disk at either end', () => {
    const item = { kind: 'stroke', color: '#000000', width: 3, lines: [[10.2, 8.7, 45.1, 30.3]] } as const;
    const expected = 3 * Math.hypot(45.1 - 10.2, 30.3 - 8.7) + Math.PI * 1.5 * 1.5;
    expect(Math.abs(inked([item]) / expected - 1)).toBeLessThan(0.02);
  });

  it('of a dashed line is that of its dashes', () => {
    const plain = inked([{ kind: 'stroke', color: '#000000', width: 1, lines: [[4, 20.5, 54, 20.5]] }]);
    const dashed = inked([
      { kind: 'stroke', color: '#000000', width: 1, dash: [5, 5], lines: [[4, 20.5, 54, 20.5]] },
    ]);
    // Five dashes of 5 px, each with its round ends of π/4 px² together.
    expect(plain).toBeGreaterThan(49);
    expect(Math.abs(dashed - 5 * (5 + Math.PI / 4))).toBeLessThan(2);
  });
});

describe('the scale bar', () => {
  it('is the longest of 1, 2, 5 × 10ⁿ mm that fits', () => {
    const scale = fc.double({ min: 1e-6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(scale, fc.integer({ min: 10, max: 500 }), (pixelsPerMm, room) => {
        const { length_mm, length_px } = scaleBar(pixelsPerMm, room);
        const first = Number(length_mm.toExponential().split('e')[0]);
        expect([1, 2, 5]).toContain(first);
        expect(length_px).toBeLessThanOrEqual(room * (1 + 1e-9));
        expect(length_px * (first === 2 ? 2.5 : 2)).toBeGreaterThan(room * (1 - 1e-9));
      }),
    );
  });

  it('is as long in pixels as the part says that it is', () => {
    // Seen square on, a box 80 wide is 80 times as wide as a millimeter of the bar.
    const { sheet: drawn, scaleBar_mm } = partPicture(box([0, 0, 0], [80, 10, 40]), 'box', {
      direction: squareOn[0],
    });
    const { width, height, data } = sheetPixels(drawn);
    const dark = (x: number, y: number): boolean => data[3 * (y * width + x)] < 120;
    const extent = (y: number): number => {
      const xs = Array.from({ length: width }, (_, x) => x).filter(x => dark(x, y));
      return xs.length === 0 ? 0 : xs[xs.length - 1] - xs[0];
    };
    const bar = drawn.items.filter(item => item.kind === 'stroke').at(-1);
    const level = bar?.kind === 'stroke' ? bar.lines[0][1] : 0;
    // The bar's own row; its words begin 10 px after it.
    const row = Math.round(level);
    let end = 44;
    while (dark(end, row)) end++;
    // The upper edge of the box is the longest dark run above the dimension lines.
    let widest = 0;
    for (let y = 100; y < height / 2; y++) {
      let run = 0;
      for (let x = 0; x < width; x++) {
        run = dark(x, y) ? run + 1 : 0;
        widest = Math.max(widest, run);
      }
    }
    expect(extent(row)).toBeGreaterThan(0);
    expect(Math.abs((end - 44) / scaleBar_mm / (widest / 80) - 1)).toBeLessThan(0.02);
  });
});

describe('lettering', () => {
  it('draws any text, within bounds, as wide as it says', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 30 }), text => {
        const { strokes, width } = lettering(text, 7);
        expect(width).toBeGreaterThanOrEqual(0);
        for (const line of strokes) expect(line.every(v => Number.isFinite(v))).toBe(true);
      }),
    );
  });

  it('has its own letter for every sign of ASCII', () => {
    const empty = JSON.stringify(lettering('\u4e00', 7));
    for (let code = 33; code < 127; code++)
      expect(JSON.stringify(lettering(String.fromCharCode(code), 7))).not.toBe(empty);
  });

  it('fits into the room there is, and says that it was cut', () => {
    const text = 'utensil-cuff/right-58-rib-quick/shell';
    const cut = fitLettering(text, 10, 100);
    expect(lettering(cut, 10).width).toBeLessThanOrEqual(100);
    expect(cut.endsWith('…')).toBe(true);
    expect(fitLettering(text, 10, 1000)).toBe(text);
    const lines = wrapLettering('one two three four five six seven eight', 10, 90, 2);
    expect(lines).toHaveLength(2);
    expect(lines[1].endsWith('…')).toBe(true);
  });
});

describe('files', () => {
  const hostile = '<script>alert("1")</script>&\u202e\u0000]]>';

  it('SVG is well-formed and holds no script, whatever a part is called', () => {
    for (const mesh of [box([0, 0, 0], [3, 2, 1]), nothing]) {
      const text = sheetSvg(partPicture(mesh, hostile).sheet);
      const names = new Set<string>();
      const parser = new SaxesParser();
      parser.on('opentag', tag => names.add(tag.name));
      parser.on('error', error => {
        throw error;
      });
      parser.write(text).close();
      expect(
        [...names]
          .sort()
          .filter(name => !['desc', 'g', 'image', 'path', 'rect', 'svg', 'title'].includes(name)),
      ).toEqual([]);
      expect(text).not.toMatch(/https?:\/\/(?!www\.w3\.org\/2000\/svg)/);
    }
  });

  it('PNG holds the pixels and the words', () => {
    const { sheet: drawn } = partPicture(box([0, 0, 0], [3, 2, 1]), 'a box', { width: 320, height: 240 });
    const { data, text } = decode(sheetPng(drawn));
    expect(Buffer.from(data).equals(Buffer.from(sheetPixels(drawn).data))).toBe(true);
    expect(text.Title).toBe('a box');
  });
});
