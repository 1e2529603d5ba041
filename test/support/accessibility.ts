import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const require = createRequire(import.meta.url);

/** What axe-core finds on a page, against WCAG 2.2; its rules are those of its own documentation. */
export async function violations(page: Page): Promise<string[]> {
  await page.evaluate(readFileSync(require.resolve('axe-core'), 'utf8'));
  return page.evaluate(async () => {
    interface Axe {
      run(): Promise<{ violations: { id: string; nodes: { html: string; failureSummary?: string }[] }[] }>;
    }
    const { violations: found } = await (globalThis as unknown as { axe: Axe }).axe.run();
    return found.map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ''} ${nodes[0]?.failureSummary ?? ''}`);
  });
}
