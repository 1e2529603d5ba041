import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { credits, type Works } from '@kinprint/license';
import { descent, work } from '../../../license/src/audit/testing.ts';
import { family, sa } from '../../../license/src/credits/testing.ts';
import { creditsHtml, creditsMarkdown } from './credits-markup.ts';
import { creditsLabel, creditsPlain } from './credits-plain.ts';

describe('credits in words', () => {
  const data = credits(family, 'cuff/both@A');

  it('are plain text, with title, author, source, license and changes', () => {
    expect(creditsPlain(data).split('\n\n').slice(0, 3)).toEqual([
      '"Cuff with both" by Teo and Sanna\n  Source:  https://example.org/both (cuff/both@A)\n  License: CC-BY-SA-4.0 (https://creativecommons.org/licenses/by-sa/4.0/)',
      'Made from the following works. Their authors do not stand behind the changes.',
      '"Cuff with a rib" by Teo and Old Hand\n  Source:  cuff/rib@B\n  License: CC-BY-SA-4.0 (https://creativecommons.org/licenses/by-sa/4.0/)\n  Combined with others in cuff/both@A: Shell taken.',
    ]);
  });

  it('fit a label, and still name everybody', () => {
    const label = creditsLabel(data, 36);
    for (const name of [
      'Teo',
      'Sanna',
      'Old Hand',
      'Mira',
      'Ines',
      'CC-BY-SA-4.0',
      'MIT',
      'CC0-1.0',
      'https://example.org/both',
    ])
      expect(label.replaceAll('\n', ' ')).toContain(name);
    expect(label).not.toContain('Jonah');
    for (const line of label.split('\n')) expect(line.length <= 36 || !line.includes(' '), line).toBe(true);
  });

  it('name what is not at hand', () => {
    const works: Works = {
      works: [work('a', sa, ['A']), work('far:x/y@A', null, [], { known: false })],
      descents: [descent('a', 'far:x/y@A', 'remix')],
    };
    const told = credits(works, 'a');
    expect(told).toMatchObject({ from: [], unknown: ['far:x/y@A'] });
    for (const text of [creditsPlain(told), creditsHtml(told)])
      expect(text).toContain('not at hand: far:x/y@A');
  });

  it('show signs that nobody sees, and let no name move the cursor', () => {
    const named = work('a', sa, ['\u202eeniM\u202c', 'B\u001b[2J'], { title: 'x'.repeat(3_000) });
    const told = credits({ works: [named], descents: [] }, 'a');
    for (const text of [creditsPlain(told), creditsLabel(told)]) {
      expect(text).toContain('\\u{202e}eniM\\u{202c}');
      expect(text).not.toMatch(/[\p{Cf}\u001b]/u);
      expect(text).toContain('x'.repeat(3_000));
    }
  });

  it('let nothing that people wrote become markup (property)', () => {
    const text = fc.string({
      unit: fc.constantFrom(
        '<',
        '>',
        '&',
        '"',
        "'",
        '[',
        ']',
        '(',
        ')',
        '*',
        '`',
        '\\',
        '\n',
        'a',
        ' ',
        '#',
        '!',
      ),
    });
    fc.assert(
      fc.property(
        text,
        text,
        fc.constantFrom(
          'javascript:alert(1)',
          'https://example.org/"><script>',
          'data:text/html,x',
          'no address',
        ),
        (title, name, url) => {
          const told = credits(
            { works: [work('a', sa, [`x${name}`], { title: `x${title}`, url })], descents: [] },
            'a',
          );
          const html = creditsHtml(told);
          const tags = [...html.matchAll(/<[^>]*>/g)].map(match =>
            match[0].replace(/href="https?:[^"<>']*"/, 'href'),
          );
          for (const tag of tags)
            expect([
              '<section>',
              '<h2>',
              '</h2>',
              '<ul>',
              '</ul>',
              '<li>',
              '</li>',
              '<cite>',
              '</cite>',
              '<a href>',
              '</a>',
              '<a rel="license" href>',
              '</section>',
              '<br>',
              '<p>',
              '</p>',
            ]).toContain(tag);
          const body = creditsMarkdown(told).split('\n').slice(2, -1);
          expect(body).toHaveLength(1);
          // Without the escaped signs and our own links nothing is left that begins markup.
          const rest = body[0].replace(/\\[^\n]/g, '').replace(/\]\(<[^<>\s]*>\)/g, '');
          expect(
            rest
              .replace(/^- \*\*\[?/, '')
              .replace('**', '')
              .replace('[CC-BY-SA-4.0', ''),
          ).not.toMatch(/[`*[\]<>]/);
        },
      ),
    );
  });
});
