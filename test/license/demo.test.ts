import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Credits } from '@kinprint/license';
import { demoRegistry } from '../support/demo-registry.ts';
import { ownCache } from '../support/own-cache.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';
import { audited, found } from './support.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'kinprint-audit-'));
const demo = path.join(folder, 'registry');
// Comparisons are kept from one edit to the next.
ownCache(() => path.join(folder, 'cache'));
beforeAll(() => demoRegistry(demo), 180_000);
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const file = (name: string): string => path.join(demo, 'devices', name);

/** Edits a manifest by hand; each text must be there. */
function edit(variant: string, ...changes: [from: string | RegExp, to: string][]): void {
  const manifest = file(`${variant}/variant.yaml`);
  let text = readFileSync(manifest, 'utf8');
  for (const [from, to] of changes) {
    const next = text.replace(from, to);
    expect(next, String(from)).not.toBe(text);
    text = next;
  }
  writeFileSync(manifest, text);
}

describe('the demo registry', () => {
  it(
    'has findings whose paths can be followed; each is mended by hand, edit by edit',
    { timeout: 600_000 },
    async () => {
      const before = await audited(demo);
      expect(before.code).toBe(1);
      expect(found(before.report).sort()).toEqual([
        'palm-rest/soft-78@A error no-derivatives',
        'palm-rest/soft-78@A warning notice-dropped',
        'pen-cuff/right-64@A ask undeclared-relative',
        'pen-cuff/right-64@A error undeclared-relative',
        'pen-cuff/right-64@A error undeclared-relative',
        'utensil-cuff/left-70@A error credit-missing',
        'utensil-cuff/right-58@C note younger-relative',
        'utensil-cuff/right-62-rest@A error change-not-indicated',
        'utensil-cuff/right-62-rest@A error copy-relabeled',
        'utensil-cuff/right-62-rest@A error version-not-allowed',
      ]);
      const told = before.text.replace(/\s+/g, ' ');
      for (const words of [
        'the same shape after scaling by 1.1; the lineage does not say so. utensil-cuff/right-58@A of 2023-09-02 is the older letter',
        'Way: utensil-cuff/left-70@A, a mirror of utensil-cuff/right-70@A, a rescale of utensil-cuff/right-65@A.',
        'does not name Jonah Pellbrook, of utensil-cuff/right-65@A',
        'Way: utensil-cuff/right-62-rest@A, a copy of palm-rest/soft-70@A/rest.',
      ])
        expect(told).toContain(words);

      const left = new Set(found(before.report));
      /** After an edit exactly these are gone, and nothing new has come. Letters fall off where content is not recorded. */
      const mended = async (...gone: string[]): Promise<void> => {
        const { report } = await audited(demo);
        const bare = (text: string): string => text.replace(/@[A-Z]+ /, ' ');
        for (const text of gone) expect(left.delete(text), text).toBe(true);
        expect(new Set(found(report).map(bare))).toEqual(new Set([...left].map(bare)));
      };

      edit('utensil-cuff/left-70', [/^authors:\n/m, 'authors:\n  - name: Jonah Pellbrook\n']);
      await mended('utensil-cuff/left-70@A error credit-missing');

      edit('utensil-cuff/right-62-rest', ['license: CC-BY-SA-3.0', 'license: CC-BY-SA-4.0']);
      await mended('utensil-cuff/right-62-rest@A error version-not-allowed');
      edit('utensil-cuff/right-62-rest', [
        /(from: utensil-cuff\/right-62@A\n(?:.*\n)??\s+relation: remix\n)/,
        '$1    changes: A wider leaf, and a rest for the palm.\n',
      ]);
      await mended('utensil-cuff/right-62-rest@A error change-not-indicated');
      edit('utensil-cuff/right-62-rest', [/- id: rest\n/, '- id: rest\n    license: CC-BY-ND-4.0\n']);
      await mended('utensil-cuff/right-62-rest@A error copy-relabeled');

      copyFileSync(file('palm-rest/soft-70/NOTICE'), file('palm-rest/soft-78/NOTICE'));
      await mended('palm-rest/soft-78@A warning notice-dropped');
      copyFileSync(file('palm-rest/soft-70/parts/rest.stl'), file('palm-rest/soft-78/parts/rest.stl'));
      edit(
        'palm-rest/soft-78',
        ['relation: remix', 'relation: copy'],
        ['changes: Longer, and thicker.', 'changes: None; print it at 111 %.'],
      );
      await mended('palm-rest/soft-78@A error no-derivatives');

      edit(
        'pen-cuff/right-64',
        ['license: CC-BY-4.0', 'license: CC-BY-SA-4.0'],
        [
          /^authors:\n/m,
          'authors:\n  - name: Mira Oakfield\n  - name: Jonah Pellbrook\n  - name: Ines Farrowgate\n',
        ],
        [
          /^parts:\n/m,
          `derivations:
  - from: utensil-cuff/right-58@B
    relation: remix
    changes: Shell scaled by 1.1, sleeve for pens.
  - from: utensil-cuff/right-62@A
    relation: combination
    changes: Leaf taken.
parts:
`,
        ],
      );
      await mended(
        'pen-cuff/right-64@A error undeclared-relative',
        'pen-cuff/right-64@A ask undeclared-relative',
        'utensil-cuff/right-58@C note younger-relative',
      );
      expect((await audited(demo)).code).toBe(0);
      execFileSync('git', ['-C', demo, 'checkout', '--quiet', '.']);
      execFileSync('git', ['-C', demo, 'clean', '--quiet', '-fd']);
    },
  );

  it(
    'tells in one command who must be named on the card, and whether the clinic may sell it',
    { timeout: 60_000 },
    async () => {
      const sale = await audited(demo, 'utensil-cuff/left-58-rib-quick', '--no-shapes', '--use', 'sale');
      expect([sale.code, sale.report.works[0].use?.answer]).toEqual([0, 'permitted']);
      expect(sale.report.works[0].use?.names).toEqual([
        'Mira Oakfield',
        'Jonah Pellbrook',
        'Teo Lindqvale',
        'Sanna Brightmoor',
      ]);
      expect(sale.text.replace(/\s+/g, ' ')).toContain(
        'Selling of utensil-cuff/left-58-rib-quick@A: yes, if the following is done.',
      );
      const label = await runCli(['credits', 'utensil-cuff/left-58-rib-quick', '--format', 'label'], demo);
      expect(sale.text).toContain(`  On the card:\n${label.out.trimEnd().replace(/^/gm, '    ')}\n`);
      expect(JSON.stringify(sale.report.works[0].use)).toContain(JSON.stringify(label.out.trimEnd()));
      // Each duty once.
      expect(sale.text.match(/Name the author/g)).toHaveLength(1);
    },
  );

  it('credits for the combination name everybody across three generations', { timeout: 60_000 }, async () => {
    const { code, out } = await runCli(['credits', 'utensil-cuff/left-58-rib-quick', '--json'], demo);
    const told = JSON.parse(out) as Credits;
    expect([code, objections('credits', told)]).toEqual([0, []]);
    expect(Math.max(...told.from.map(entry => entry.generation))).toBe(3);
    for (const format of ['text', 'markdown', 'html', 'label']) {
      const text = (
        await runCli(['credits', 'utensil-cuff/left-58-rib-quick', '--format', format], demo)
      ).out.replace(/\s+/g, ' ');
      for (const name of [
        'Mira Oakfield',
        'Jonah Pellbrook',
        'Teo Lindqvale',
        'Sanna Brightmoor',
        'CC-BY-SA-4.0',
      ])
        expect(text, format).toContain(name);
    }
  });

  it(
    'authors who came later are not owed to who built on an earlier letter',
    { timeout: 60_000 },
    async () => {
      // Jonah joined at right-58@B; the quick strap came from right-58@A.
      const { report } = await audited(demo, 'utensil-cuff/right-58-quick-strap', '--no-shapes');
      expect([found(report), report.guessed]).toEqual([[], []]);
    },
  );
});
