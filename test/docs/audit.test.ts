import { readFileSync } from 'node:fs';
import { auditCodes } from '@kinprint/license';
import { describe, expect, it } from 'vitest';

const page = readFileSync(new URL('../../docs/audit.md', import.meta.url), 'utf8');

describe('docs/audit.md', () => {
  it('explains every code with its severity, and none that there is not', () => {
    const rows = [...page.matchAll(/^\| `([a-z-]+)` \| (error|warning|ask|note) \|/gm)].map(([, code, severity]) => [code, severity]);
    expect(Object.fromEntries(rows)).toEqual(auditCodes);
    expect(rows).toHaveLength(Object.keys(auditCodes).length);
  });
});
