import { describe, expect, it } from 'vitest';
import { expressionText, parseExpression } from '@kinprint/license';
import { licenseReference } from './reference.ts';

const { tests } = licenseReference<{ tests: [string, boolean | null, boolean, string][] }>(
  'spdx-expression-tests.json',
);

describe('license expressions against the grammar cases of SPDX 2.3 and 3.0', () => {
  it.each(tests)('%s', (text, in23, in30) => {
    if (in23 !== null) expect(parseExpression(text, '2.3').ok, 'in 2.3').toBe(in23);
    expect(parseExpression(text, '3.0').ok, 'in 3.0').toBe(in30);
  });

  it('has all cases', () => expect(tests).toHaveLength(34));

  it('groups as the grammar says', () => {
    const written = (text: string): string => {
      const parsed = parseExpression(text);
      return parsed.ok ? nested(parsed.expression) : parsed.fault;
    };
    const nested = (e: Extract<ReturnType<typeof parseExpression>, { ok: true }>['expression']): string =>
      e.kind === 'license'
        ? expressionText(e)
        : `${e.kind.toUpperCase()}(${e.members.map(nested).join(', ')})`;
    // Meanings as the reference tells them.
    expect(written('MIT OR Apache-2.0 AND CC-BY-4.0')).toBe('OR(MIT, AND(Apache-2.0, CC-BY-4.0))');
    expect(written('(MIT OR Apache-2.0) AND CC-BY-4.0')).toBe('AND(OR(MIT, Apache-2.0), CC-BY-4.0)');
    expect(written('GPL-2.0-or-later WITH Classpath-exception-2.0 AND MIT')).toBe(
      'AND(GPL-2.0-or-later WITH Classpath-exception-2.0, MIT)',
    );
    expect(written('GPL-2.0+')).toBe('GPL-2.0-or-later');
    expect(written('GPL-2.0')).toBe('GPL-2.0-only');
  });
});
