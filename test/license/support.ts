import type { RegistryAudit } from '@kinprint/registry';
import { expect } from 'vitest';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

/** Runs an audit for people and for programs; both outputs keep their form. */
export async function audited(
  folder: string,
  ...args: string[]
): Promise<{ code: number; report: RegistryAudit; text: string }> {
  const { code, out, err } = await runCli(['audit', '--json', ...args], folder);
  expect(err).toBe('');
  const report = JSON.parse(out) as RegistryAudit;
  expect(objections('audit', report)).toEqual([]);
  const { out: text } = await runCli(['audit', ...args], folder);
  for (const line of text.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
  expect(text.replace(/\s+/g, ' ')).toContain('This is no legal advice.');
  return { code, report, text };
}

/** `WORK SEVERITY CODE` of every finding, work by work, the worst first. */
export function found(report: RegistryAudit): string[] {
  return report.works.flatMap(w => w.findings.map(f => `${f.work} ${f.severity} ${f.code}`));
}
