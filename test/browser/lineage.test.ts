import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { lineageHtml, lineageMermaid } from '@kinprint/report';
import { afterAll, describe, expect, test } from 'vitest';
import { lendingGroup } from '../../packages/report/src/testing/lineage-samples.ts';
import { violations } from '../support/accessibility.ts';
import { headlessBrowser } from '../support/browser.ts';
import { hostileLineage, hostileTitle } from '../support/hostile-lineage.ts';

const about = { registry: 'Lending group', question: null, chosen: [] };
const require = createRequire(import.meta.url);
const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-lineage-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const browser = headlessBrowser();

describe('the page, opened from a file', () => {
  test.each([
    ['the lending group', lendingGroup],
    ['names made to break it', hostileLineage],
  ])('%s: nothing is fetched, refused or run, and it can be read without seeing it', async (_, graph) => {
    const file = path.join(folder, 'lineage.html');
    writeFileSync(file, await lineageHtml(graph, about));
    const page = await browser.context().newPage();
    const said: string[] = [];
    page.on('console', message => said.push(message.text()));
    page.on('pageerror', error => said.push(error.message));
    page.on('dialog', dialog => {
      said.push(dialog.message());
      void dialog.dismiss();
    });
    const asked: string[] = [];
    page.on('request', request => asked.push(request.url()));
    const address = pathToFileURL(file).href;
    await page.goto(address);
    expect(said).toEqual([]);
    expect(asked).toEqual([address]);
    expect(await page.locator('tbody tr').count()).toBe(graph.nodes.length);
    const texts = await page.locator('tbody tr').allTextContents();
    for (const { title } of graph.nodes)
      if (title !== null && /^[\w ,-]+$/.test(title)) expect(texts.join('\n')).toContain(title);
    expect(await violations(page)).toEqual([]);
    await page.close();
  });
});

describe('Mermaid, drawn by its own library', () => {
  test.each([
    ['the lending group', lendingGroup],
    ['names made to break it', hostileLineage],
  ])('%s: every revision and every link is in the picture, nothing else', async (_, graph) => {
    const page = await browser.context().newPage();
    await page.goto('about:blank');
    await page.addScriptTag({ path: require.resolve('mermaid/dist/mermaid.min.js') });
    const drawn = await page.evaluate(
      async (text: string) => {
        interface Mermaid {
          initialize(options: object): void;
          render(id: string, text: string): Promise<{ svg: string }>;
        }
        const { mermaid } = globalThis as unknown as { mermaid: Mermaid };
        mermaid.initialize({ startOnLoad: false, securityLevel: 'strict' });
        const { svg } = await mermaid.render('picture', text);
        document.body.innerHTML = svg;
        const textsOf = (selector: string): string[] =>
          [...document.querySelectorAll(selector)].map(it => it.textContent);
        return { nodes: textsOf('.node'), links: textsOf('.edgeLabels .edgeLabel p').length };
      },
      lineageMermaid(graph, about),
    );
    expect(drawn.nodes).toHaveLength(graph.nodes.length);
    expect(drawn.links).toBe(graph.edges.length);
    for (const { id } of graph.nodes) expect(drawn.nodes.some(text => text.includes(id))).toBe(true);
    if (graph === hostileLineage) expect(drawn.nodes.join('\n')).toContain(hostileTitle);
    await page.close();
  });
});
