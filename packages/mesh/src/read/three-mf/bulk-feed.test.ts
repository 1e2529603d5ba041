import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../error.ts';
import { modelOf } from '../../testing/three-mf-package.ts';
import { readModelPart } from './model-part.ts';

/** What a reader makes of a model, as text; the document comes in pieces of `size` bytes. */
function outcome(model: string, size: number): string {
  const bytes = new TextEncoder().encode(model);
  try {
    const reader = readModelPart('part');
    for (let at = 0; at < bytes.length; at += size) reader.write(bytes.subarray(at, at + size));
    const objects = [...reader.end().objects.values()];
    return JSON.stringify(
      objects.map(o => [o.id, [...(o.mesh?.positions ?? [])], [...(o.mesh?.triangles ?? [])]]),
    );
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return `${error.code} in line ${error.place.line}: ${error.message}`;
  }
}

/** The same document; but a blank within the tags that open lists keeps it off the short way. */
const longWay = (model: string) => model.replace(/<(vertices|triangles)>/g, '<$1 >');

const piece = fc.constantFrom(
  '<vertex x="0" y="1" z="2"/>', "<vertex y='1e1' x='-.5' z='+2.25' />", '\n <vertex\tx="1"\ny="2" z="3"/>',
  '<vertex x="1." y="0" z="0"/>', '<vertex x="1" y="0"/>', '<vertex x="1" x="1" y="0" z="0"/>', '<vertex/>',
  '<vertex x="nan" y="0" z="0"/>', '<vertex x="1" y="0" z="0"></vertex>', '<vertex x="&#49;" y="0" z="0"/>',
  '<vertex x="1" y="0" z="0" m="&lt;"/>', '<vertex x="1e999" y="0" z="0"/>', '<!-- vertices> -->', '<x:y xmlns:x="u"/>',
  '<triangle v1="0" v2="1" v3="2"/>', '<triangle v3="0" v2="1" v1="2" pid="5" p1="0"/>', '<triangle v1="0" v2="1" v3="9"/>',
  '<triangle v1="-0" v2="1" v3="2"/>', '<triangle v1="00000000001" v2="1" v3="2"/>', '<triangle v1="0" v2="1"/>',
  '<vertexes x="1" y="0" z="0"/>', '<vertex x = "1" y="0" z="0"/>', '<vertex x="1"y="0" z="0"/>', 'text', '\n', '&amp;',
  '</vertices><vertices>', '<vertices>', '</vertices>', '<![CDATA[vertices>]]>',
); // prettier-ignore

describe('the short way through long lists', () => {
  it('ends where the XML reader ends, whatever stands in the lists and however it is cut (property)', () => {
    fc.assert(
      fc.property(
        fc.array(piece, { maxLength: 7 }),
        fc.array(piece, { maxLength: 7 }),
        fc.integer({ min: 1, max: 60 }),
        (v, t, size) => {
          const whole = '<vertex x="0" y="0" z="0"/><vertex x="1" y="0" z="0"/><vertex x="0" y="1" z="0"/>';
          const mesh = `<mesh><vertices>${whole}\n${v.join('')}</vertices><triangles>${t.join('')}</triangles></mesh>`;
          const model = modelOf(`<object id="1">${mesh}</object>`, '');
          expect(outcome(model, size)).toBe(outcome(longWay(model), size));
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('gives the line of what is wrong behind a long list, and no column that it did not count', () => {
    const vertices = Array.from({ length: 5000 }, (_, i) => `<vertex x="${i}" y="0" z="0"/>`);
    const model = (between: string) =>
      modelOf(
        `<object id="1"><mesh><vertices>${vertices.join(between)}<vertex x="1." y="0" z="0"/></vertices></mesh></object>`,
        '',
      );
    expect(outcome(model('\n'), 1 << 14)).toContain('3mf-number in line 5002');
    expect(outcome(model(' '), 1 << 14)).toContain('3mf-number in line 3');
    expect(() => {
      const reader = readModelPart('part');
      reader.write(new TextEncoder().encode(model(' ')));
      reader.end();
    }).toThrow(expect.objectContaining({ place: { line: 3 } }) as Error);
  });
});
