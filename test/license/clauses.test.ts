import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { licenses, moves, versionRules, type Basis } from '@kinprint/license';
import { describe, expect, it } from 'vitest';
import { quotes } from './clauses.ts';

// Source: the texts of the SPDX license list, as spdx-license-list 6.12.0 packs them.
const folder = path.join(
  path.dirname(createRequire(import.meta.url).resolve('spdx-license-list/package.json')),
  'licenses',
);

/** One line, with plain quotation marks; GNU ids name one version. */
function textOf(id: string): string {
  const file = /^(A|L)?GPL-/.test(id) ? `${id}-only` : id;
  const { licenseText } = JSON.parse(readFileSync(path.join(folder, `${file}.json`), 'utf8')) as {
    licenseText: string;
  };
  return plain(licenseText);
}

function plain(text: string): string {
  return text.replace(/[“”]/g, '"').replace(/[’]/g, "'").replace(/\s+/g, ' ').toLowerCase();
}

/** The words between `…` stand in the text in that order. Gives the first that does not; null for none. */
function missing(text: string, words: string): string | null {
  let at = 0;
  for (const piece of words.split('…').map(each => plain(each).trim())) {
    const found = text.indexOf(piece, at);
    if (found < 0) return piece;
    at = found + piece.length;
  }
  return null;
}

const idOf = (key: string): string => /^[^ ,]+/.exec(key)?.[0] ?? '';

describe('the words on which rules rest stand in the published texts', () => {
  it.each(Object.entries(quotes))('%s', (key, words) => {
    expect(missing(textOf(idOf(key)), words)).toBeNull();
  });

  it('words that do not stand there, or in another order, are found out', () => {
    const text = textOf('MIT');
    expect(missing(text, 'The above copyright notice … shall not be included')).toBe('shall not be included');
    expect(missing(text, 'in all copies … The above copyright notice')).toBe('the above copyright notice');
  });
});

describe('every row that claims a text', () => {
  const rows: readonly Basis[] = [
    ...licenses.flatMap(({ adapt, commercial, collect, duties }) => [adapt, commercial, collect, ...duties]),
    ...moves,
    ...versionRules,
  ];
  const claimed = new Set(
    rows
      .filter(({ sure, source }) => sure === 'read' && source.startsWith('license text'))
      .flatMap(({ clause }) => clause.split('; ')),
  );

  it('of a family that is quoted here has its words here, and none is quoted for nothing', () => {
    const quoted = new Set(Object.keys(quotes).map(idOf));
    const bare = [...claimed].filter(clause => quoted.has(idOf(clause)) && !(clause in quotes));
    expect(bare).toEqual([]);
    // GPL-2.0 9 stands with the GNU license list in its row.
    const idle = Object.keys(quotes).filter(key => !claimed.has(key) && key !== 'GPL-2.0 9');
    expect(idle).toEqual([]);
  });

  it('rests on memory only in ports to other languages, and where no text is at hand', () => {
    const memory = rows
      .filter(({ sure }) => sure === 'memory')
      .map(({ clause, source }) => `${clause} (${source})`);
    const left = [...new Set(memory)].filter(text => !/^CC-BY\S*-\d\.\d-[A-Z]{2,3} /.test(text));
    expect(left.sort()).toEqual([
      'entry Apache-2.0 (GNU license list)',
      'entry CC-BY (GNU license list)',
      'entry CC-BY-4.0 (GNU license list)',
      'none (no rules known)',
    ]);
  });
});
