import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readReadme } from './readme.ts';

describe('what a README tells', () => {
  test('title, first paragraph, cautions', () => {
    const text = `![logo](x.png)

# The **cuff** #

Holds a [spoon](https://example.org) in a
hand that cannot grip.

More text.

## Printing

- Warning: small parts.
- PLA.
- Do not leave
  it in a hot car.

> **Caution** it is no toy.
`;
    expect(readReadme(text)).toEqual({
      title: 'The cuff',
      purpose: 'Holds a spoon in a hand that cannot grip.',
      cautions: ['Warning: small parts.', 'Do not leave it in a hot car.', 'Caution it is no toy.'],
    });
  });

  test('underlined titles, line ends of other systems, code left out', () => {
    expect(readReadme('Cuff\r\n====\r\n\r\n```\nWarning: code\n```\r\n\r\nHolds.\r\n')).toEqual({
      title: 'Cuff',
      purpose: 'Holds.',
      cautions: [],
    });
    expect(readReadme('')).toEqual({ title: null, purpose: null, cautions: [] });
    expect(readReadme('- one\n- two')).toMatchObject({ title: null, purpose: null });
  });

  test('any text at all, quickly, without controls', () => {
    const pieces = fc.constantFrom(
      '#',
      '```',
      '<!--',
      '-->',
      '![',
      '](',
      '<',
      '\n',
      '\n\n',
      '- ',
      'Warning ',
      '\u001b[2J',
      '*',
      'word',
    );
    fc.assert(
      fc.property(fc.array(fc.oneof(pieces, fc.string({ unit: 'binary' })), { maxLength: 200 }), parts => {
        const { title, purpose, cautions } = readReadme(parts.join(''));
        for (const line of [title ?? '', purpose ?? '', ...cautions]) expect(line).not.toMatch(/\p{Cc}/u);
      }),
    );
    for (const bad of [
      '<!--'.repeat(60_000),
      '```\n'.repeat(60_000),
      '['.repeat(250_000),
      '<'.repeat(250_000),
      '![a]('.repeat(50_000),
    ]) {
      const start = performance.now();
      readReadme(bad);
      expect(performance.now() - start).toBeLessThan(3000);
    }
  });
});
