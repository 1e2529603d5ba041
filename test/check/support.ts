import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { CheckReport, Finding } from '@kinprint/registry';
import { readRegistry, variantDigest, workingFiles } from '@kinprint/registry';
import { expect } from 'vitest';
import type { SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

export interface Checked {
  readonly exit: number;
  readonly report: CheckReport;
  readonly text: string;
}

/** Runs the command for people and for programs; both outputs keep their form. */
export async function check(registry: Pick<SmallRegistry, 'folder'>, ...args: string[]): Promise<Checked> {
  const { code, out, err } = await runCli(['check', '--no-cache', '--json', ...args], registry.folder);
  expect(err).toBe('');
  const report = JSON.parse(out) as CheckReport;
  expect(objections('check', report)).toEqual([]);
  const { out: text } = await runCli(['check', '--no-cache', ...args], registry.folder);
  for (const line of text.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
  return { exit: code, report, text };
}

export interface Expected {
  readonly code: string;
  readonly severity: Finding['severity'];
  readonly file: string;
  /** The line it points at, without blanks around; null for the file as a whole. */
  readonly line: string | null;
  readonly part?: string | null;
  readonly says?: RegExp;
}

/** The registry has exactly this one finding (besides `others`), in this place, and the exit code follows from it. */
export async function expectOnly(
  registry: Pick<SmallRegistry, 'folder'>,
  expected: Expected,
  ...others: string[]
): Promise<Checked> {
  const checked = await check(registry);
  const rest = checked.report.findings.filter(f => !others.includes(f.code));
  expect(rest.map(f => `${f.code} ${f.text}`)).toHaveLength(1);
  const [found] = rest;
  expect(found.code).toBe(expected.code);
  expect(found.severity).toBe(expected.severity);
  expect(found.file).toBe(expected.file);
  expect(found.source?.trim() ?? null).toBe(expected.line);
  if (expected.part !== undefined) expect(found.part).toBe(expected.part);
  if (expected.says !== undefined) expect(found.text).toMatch(expected.says);
  if (expected.line !== null) {
    expect(found.line).toBeGreaterThan(0);
    expect(checked.text).toContain('^');
  }
  const worst = checked.report.findings.some(f => f.severity === 'error');
  expect(checked.exit).toBe(worst ? 1 : 0);
  return checked;
}

/** Records the present content of a variant by hand: a letter with its digest. Gives the digest. */
export async function recordByHand(folder: string, address: string, letter: string): Promise<string> {
  const digest = await variantDigest(await readRegistry(workingFiles(folder)), address);
  const file = path.join(folder, 'devices', address, 'variant.yaml');
  const text = readFileSync(file, 'utf8');
  const head = text.includes('\nrevisions:') ? '' : 'revisions:\n';
  writeFileSync(file, `${text}${head}  - letter: ${letter}\n    digest: ${digest}\n    date: 2026-03-14\n`);
  return digest;
}
