import { readFileSync } from 'node:fs';
import { reasonCodes } from '@kinprint/fit';
import { reviewCodes } from '@kinprint/registry';
import { describe, expect, it } from 'vitest';

const page = readFileSync(new URL('../../docs/review.md', import.meta.url), 'utf8');
const cells = page
  .split('\n')
  .filter(line => line.startsWith('| `'))
  .map(line => line.split('|').map(cell => cell.trim()));
const rows = new Map(cells.flatMap(([, names, ...rest]) => names.split(', ').map(name => [name.replaceAll('`', ''), rest])));

describe('docs/review.md', () => {
  it('explains every finding with its severity', () => {
    for (const [code, severity] of Object.entries(reviewCodes)) expect(rows.get(code)?.[0], code).toBe(severity);
  });

  it('explains every reason with its aspect and weight', () => {
    for (const [code, { aspect, weight }] of Object.entries(reasonCodes))
      expect(rows.get(code)?.slice(0, 2), code).toEqual([aspect, weight]);
  });
});
