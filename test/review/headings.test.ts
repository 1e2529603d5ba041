import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { gitIn, removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { demoRegistry } from '../support/demo-registry.ts';
import { temporaryFolder } from '../support/meshes.ts';
import { runCli } from '../support/run-cli.ts';

const [demo, out] = [temporaryFolder(), temporaryFolder()];
afterAll(() => {
  demo.remove();
  out.remove();
  removeTemporaryFolders();
});

/** What a review of the demo's submission has to tell, as a maintainer reads it; written by hand. */
const expected = [
  'In the way',
  ...['If you already have it', 'Parts', 'Derived from', 'Variants made from it'],
  ...['If you already have utensil-cuff/right-58-rib', 'Parts', 'Hardware changed', 'Derived from'],
  'Parts',
  'Other findings',
];

/** Headings that the preparation has besides: what a contributor alone is told. */
const ownOfPrepare = [
  ...['Interfaces', 'Printers that take its box as it is to be printed', 'To put into manifests'],
  ...['To print', 'To buy', 'License and credit', 'To be filled in by whoever sends this'],
];

const titles = [
  'Utensil cuff, right hand, 62 mm',
  'Utensil cuff with a tray, right hand, 58 mm',
  'Utensil cuff, right hand, 60 mm',
];
const addresses = ['utensil-cuff/right-62', 'utensil-cuff/right-58-tray', 'utensil-cuff/right-60'];

/** Headings of a text for a terminal: lines of the first and the second level. */
function ofTerminal(text: string): string[] {
  const lines = text.split('\n').slice(3);
  return lines.flatMap((line, k) => {
    const first = /^\S/.test(line) && lines[k - 1] === '' && /^ {2}\S/.test(lines[k + 1] ?? '');
    const second = /^ {2}\S/.test(line) && lines[k - 1] === '' && /^ {4}\S/.test(lines[k + 1] ?? '');
    return (first || second) && !addresses.includes(line) ? [line.trim()] : [];
  });
}

/** Headings of a Markdown text: those with marks but of parts, and bold lines. */
function ofMarkdown(text: string): string[] {
  return text.split('\n').flatMap(line => {
    const name = /^#{2,3} (.*)$/.exec(line)?.[1] ?? /^\*\*([^*]*[^*.])\*\*$/.exec(line)?.[1];
    return name === undefined || titles.includes(name) || name === 'main → submission' ? [] : [name];
  });
}

/** Headings of a page in their order, but those within a part. */
function ofPage(html: string): string[] {
  return [...html.replace(/<details class="part"[^]*?<\/details>/g, '').matchAll(/<h[23][^>]*>([^<]*)</g)]
    .map(([, name]) => name)
    .filter(name => !titles.includes(name));
}

describe('the headings of a review', () => {
  beforeAll(async () => {
    await demoRegistry(demo.path);
  }, 120_000);
  const at = (name: string): string => path.join(out.path, name);

  it(
    'are the same in the terminal, in Markdown, on the page, and for who prepares it',
    { timeout: 240_000 },
    async () => {
      const args = ['review', 'main..submission', '--no-shapes'];
      const { out: text } = await runCli(
        [...args, '--markdown', at('r.md'), '--html', at('r.html')],
        demo.path,
      );
      expect(ofTerminal(text)).toEqual(expected);
      expect(ofMarkdown(readFileSync(at('r.md'), 'utf8'))).toEqual(expected);
      expect(ofPage(readFileSync(at('r.html'), 'utf8'))).toEqual(expected);

      gitIn(demo.path, 'checkout', '-q', 'submission');
      const prepared = await runCli(['prepare', '--no-shapes', '--output', at('s.md')], demo.path);
      const shared = (headings: readonly string[]): string[] =>
        headings.filter(name => !ownOfPrepare.includes(name) && !/\.yaml, /.test(name));
      expect(shared(ofTerminal(prepared.out))).toEqual(expected);
      expect(shared(ofMarkdown(readFileSync(at('s.md'), 'utf8')))).toEqual(expected);
      gitIn(demo.path, 'checkout', '-q', 'main');
    },
  );
});
