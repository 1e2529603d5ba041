import { readFileSync } from 'node:fs';
import { findingCodes } from '@kinprint/registry';
import { describe, expect, it } from 'vitest';

const root = new URL('../../', import.meta.url);
const read = (file: string) => readFileSync(new URL(file, root), 'utf8');
const page = read('docs/findings.md');
const rows = new Map(
  [...page.matchAll(/^\| `([a-z0-9-]+)` \| (error|warning|note) \|/gm)].map(([, code, severity]) => [code, severity]),
);

describe('docs/findings.md', () => {
  it('explains every code of the checks with its severity', () => {
    for (const [code, severity] of Object.entries(findingCodes)) expect(rows.get(code), code).toBe(severity);
  });

  it('explains every code of documents', () => {
    const union = /export type ProblemCode =([^;]+);/.exec(read('packages/manifest/src/problem.ts'))?.[1] ?? '';
    const codes = [...union.matchAll(/'([a-z0-9-]+)'/g)].map(([, code]) => code);
    expect(codes.length).toBeGreaterThan(10);
    for (const code of codes) expect(page, code).toContain(`\`${code}\``);
  });

  it('explains every code of the layout', () => {
    const layout = ['read-registry', 'read-text'].map(name => read(`packages/registry/src/state/${name}.ts`)).join('');
    const codes = [...layout.matchAll(/layoutProblem\(\s*'([a-z0-9-]+)'/g)].map(([, code]) => code);
    expect(codes.length).toBeGreaterThan(4);
    for (const code of codes) expect(rows.has(code), code).toBe(true);
  });
});
