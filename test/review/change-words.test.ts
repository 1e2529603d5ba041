import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Mesh } from '@kinprint/mesh';
import { afterAll, describe, expect, it } from 'vitest';
import { joined, scaled } from '../../packages/mesh/src/testing/motions.ts';
import { plateWithHoles } from '../../packages/mesh/src/testing/plate.ts';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { runCli } from '../support/run-cli.ts';
import { twoStates } from './support.ts';

afterAll(removeTemporaryFolders);

const sides = 64;
const plate = (second: number): Mesh =>
  plateWithHoles(40, 20, 5, [
    { x: 10, y: 10, r: 1.6, sides },
    { x: 30, y: 10, r: second, sides },
  ]);
const lines = (tolerance: number): string =>
  `parts:
  - id: shell
    mesh: parts/shell.stl
    quantity: 2
    interfaces:
      - { id: pivot, kind: bore, nominal_mm: 3.2, tolerance_mm: { plus: ${tolerance}, minus: ${tolerance} }, at_mm: [10, 10, 0], axis: [0, 0, 1] }
`;

/** What the terminal, the Markdown and the page say of a shell that was one mesh and is another; each in one line. */
async function told(before: Mesh, after: Mesh, tolerances: readonly [number, number]) {
  const registry = twoStates(
    r => r.variant('left', lines(tolerances[0]), { 'shell.stl': before }),
    r => r.variant('left', lines(tolerances[1]), { 'shell.stl': after }),
  );
  const { out } = await runCli(
    ['review', 'main..change', '--no-cache', '--no-shapes', '--markdown', 'r.md', '--html', 'r.html'],
    registry.folder,
  );
  const file = (name: string): string => readFileSync(path.join(registry.folder, name), 'utf8');
  const plain = (text: string): string => text.replace(/\\(.)/g, '$1').replace(/\s+/g, ' ');
  const page = file('r.html').replace(/<[^>]*>/g, ' ');
  return [out, file('r.md'), page.replaceAll('&#39;', "'").replaceAll('&gt;', '>')].map(plain);
}

describe('what changed of a part, in a line', () => {
  it(
    'names the feature, and whoever has it is told which file, how often and why',
    { timeout: 120_000 },
    async () => {
      const [terminal, markdown, page] = await told(plate(1.6), plate(2), [0.1, 0.3]);
      // A ring between two regular polygons of 64 corners: 64/2 · sin(2π/64) · (2² − 1.6²) · 5 = 22.6 mm³.
      const what = 'bore ⌀3.20 → ⌀4.00; −22.6 mm³, ≤ 0.40 mm';
      for (const text of [terminal, markdown, page]) expect(text).toContain(what);
      const why =
        "The bore 'pivot' was declared 3.2 ± 0.1 mm, and is now 3.2 ± 0.3 mm: new parts need not meet what the old ones had to.";
      for (const text of [terminal, markdown])
        expect(text).toContain(`shell × 2: reprint parts/shell.stl. ${why}`);
      expect(page).toMatch(/shell 2 reprint parts\/shell\.stl The bore 'pivot' was declared/);
    },
  );

  it(
    'says first what it was scaled by, since volumes are those after that',
    { timeout: 120_000 },
    async () => {
      const lump = box(4, 5, 6, [18, 8, 5.5]);
      const grown = joined(scaled(plate(1.6), 1.1), lump);
      for (const text of await told(plate(1.6), grown, [0.1, 0.1]))
        // 4 × 5 × 6 mm of a lump.
        expect(text).toMatch(/; scaled by 1\.1, then \+120\.0 mm³/);
    },
  );

  it('says once that a part is only scaled', { timeout: 120_000 }, async () => {
    const texts = await told(plate(1.6), scaled(plate(1.6), 1.1), [0.1, 0.1]);
    for (const text of texts) {
      expect(text).toMatch(/rescaled .*scaled by 1\.1/);
      expect(text).not.toContain('× 1.1');
    }
  });
});
