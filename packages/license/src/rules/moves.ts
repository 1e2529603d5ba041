import { derived, gnuList, memory, read } from './basis.ts';
import type { Answer, Basis, License } from './types.ts';

/**
 * One row: may a changed version of a work under `from` be passed on under `to`? A word is a license's id, its family,
 * `cc:` and its elements, `*` for any, and in `to` also `same` for the same license. The first row that fits counts.
 */
export interface Move extends Basis {
  readonly from: readonly string[];
  readonly to: readonly string[];
  readonly answer: Answer;
  readonly why: string;
}

const sa = 'list of ShareAlike compatible licenses';
const copyleft = ['gpl', 'lgpl', 'agpl', 'cern-s', 'cern-w', 'tapr', 'free-art'];
const lenient = ['permissive', 'apache', 'cern-p'];
const byFour = ['CC-BY-4.0'];
const stays = 'A changed version must stay under the same license, or one named compatible with it.';
const keeps = 'Any license may cover the new layer; the notices of the old one stay.';

/** Moves between licenses of which at least one is not of Creative Commons; those within it stand in its two charts. */
export const moves: readonly Move[] = [
  row(
    ['reserved'],
    ['*'],
    'not-permitted',
    'No license is stated, so nothing is granted: ask the authors.',
    derived('copyright without a license', 'Creative Commons FAQ'),
  ),
  row(
    ['unknown'],
    ['*'],
    'ask',
    'What the license asks is not in the table of rules: read its text.',
    memory('none', 'no rules known'),
  ),
  row(
    ['cc:BY-ND', 'cc:BY-NC-ND'],
    ['*'],
    'not-permitted',
    'A changed version may not be shared.',
    derived('CC-BY-ND-4.0 2(a)(1)(B), 3(a)'),
  ),

  row(['*'], ['same'], 'permitted', 'The license stays the same.', derived('grant of rights')),

  row(
    ['CC-BY-SA-4.0'],
    ['GPL-3.0-only'],
    'permitted',
    'GPL version 3 was named compatible, in this direction only; give the source as the GPL asks.',
    read('CC-BY-SA-4.0 3(b)(1), 2(a)(5)(B)', sa),
  ),
  row(
    ['CC-BY-SA-4.0'],
    ['LAL-1.3'],
    'permitted',
    'The Free Art License 1.3 was named compatible.',
    read('CC-BY-SA-4.0 3(b)(1)', sa),
  ),
  row(
    ['LAL-1.3'],
    ['CC-BY-SA-4.0'],
    'permitted',
    'CC-BY-SA-4.0 was named compatible, in both directions.',
    read('LAL-1.3 5'),
  ),
  ...['CC-BY-SA-4.0', 'CC-BY-NC-SA-4.0'].map(id =>
    row([id], ['*'], 'not-permitted', stays, derived(`${id} 3(b)(1)`, sa)),
  ),
  row(
    ['cc:BY-SA'],
    ['*'],
    'not-permitted',
    stays,
    derived('CC-BY-SA-3.0 4(b), and the same in earlier versions', sa),
  ),
  row(
    ['cc:BY-NC-SA'],
    ['*'],
    'not-permitted',
    stays,
    derived('CC-BY-NC-SA-3.0 4(b), and the same in earlier versions', sa),
  ),

  row(
    ['public-domain'],
    ['*'],
    'permitted',
    'No right is held back: any license may cover what is new.',
    read('adapter chart, PD', 'Creative Commons FAQ'),
  ),
  row(
    ['*'],
    ['CC-PDM-1.0'],
    'not-recommended',
    'The public domain mark is for works that are free of copyright already.',
    read('section on works in the public domain', 'Creative Commons FAQ'),
  ),
  row(
    lenient,
    ['public-domain'],
    'not-recommended',
    'The notice of the old layer survives, and the new label hides it: show both.',
    derived('adapter chart, BY to PD, by analogy', 'Creative Commons FAQ'),
  ),

  row(
    byFour,
    ['gpl', 'lgpl', 'agpl'],
    'permitted',
    'CC-BY-4.0 is listed as compatible with all versions of the GPL; the credit stays.',
    memory('entry CC-BY-4.0', gnuList),
  ),
  row(
    byFour,
    ['*'],
    'permitted',
    'Any license may cover the new layer that does not keep people from giving the credit.',
    read('CC-BY-4.0 3(a)(4)'),
  ),
  row(
    ['cc:BY'],
    copyleft,
    'ask',
    'Only version 4.0 of CC-BY was said to go along with licenses that cover the whole work.',
    memory('entry CC-BY', gnuList),
  ),
  row(
    ['cc:BY'],
    ['*'],
    'permitted',
    'Any license may cover the new layer; the credit stays.',
    derived('adapter chart, BY', 'Creative Commons FAQ'),
  ),

  row(
    ['cc:BY-NC'],
    copyleft,
    'not-permitted',
    'That license wants the whole work free of such limits, and the old layer stays noncommercial.',
    derived('GPL-3.0 5(c), CERN-OHL-S-2.0 3.3(d)'),
  ),
  row(
    ['cc:BY-NC'],
    ['*'],
    'not-recommended',
    'It covers the new layer only; the old one stays noncommercial: show both licenses.',
    derived('CC-BY-NC-4.0 3(a)(4); adapter chart, BY-NC', 'Creative Commons FAQ'),
  ),

  row(
    ['apache'],
    ['GPL-1.0-only', 'GPL-2.0-only', 'LGPL-2.0-only', 'LGPL-2.1-only'],
    'not-permitted',
    'Its patent terms are limits that version 2 of the GPL does not allow.',
    memory('entry Apache-2.0', gnuList),
  ),
  row(
    ['permissive', 'apache'],
    ['*'],
    'permitted',
    keeps,
    derived('permission notice; Apache-2.0 4, last paragraph'),
  ),
  row(
    ['cern-p'],
    ['*'],
    'permitted',
    'Other terms are allowed if the notices stay and everybody gets a copy of CERN-OHL-P.',
    read('CERN-OHL-P-2.0 3.4'),
  ),

  row(
    ['cern-w'],
    ['CERN-OHL-S-2.0'],
    'permitted',
    'Allowed where every available component also meets the definition of CERN-OHL-S.',
    read('CERN-OHL-W-2.0 8.3, last paragraph'),
  ),
  row(
    ['cern-w'],
    ['*'],
    'not-permitted',
    'A changed version must stay under CERN-OHL-W.',
    derived('CERN-OHL-W-2.0 3.3(d)'),
  ),
  row(
    ['cern-s'],
    ['*'],
    'not-permitted',
    'A changed version must be under CERN-OHL-S as a whole.',
    read('CERN-OHL-S-2.0 3.3(d)'),
  ),
  row(
    ['cern-1'],
    ['cern-1', 'cern-s'],
    'ask',
    'A later version may be chosen where CERN calls it one of this license; of version 2 a person must judge.',
    read('CERN-OHL-1.2 3.4(e)'),
  ),
  row(
    ['cern-1'],
    ['*'],
    'not-permitted',
    'A changed version must stay under the same license.',
    read('CERN-OHL-1.2 3.4(e)'),
  ),

  row(
    ['tapr'],
    ['*'],
    'not-permitted',
    'A changed version must be under the same license.',
    read('TAPR-OHL-1.0 preamble'),
  ),
  row(
    ['LAL-1.2'],
    ['LAL-1.3'],
    'permitted',
    'A later version of the same license may be chosen.',
    read('LAL-1.2 6'),
  ),
  row(
    ['free-art'],
    ['*'],
    'not-permitted',
    'A changed version must stay under the same license, or one that it names.',
    read('LAL-1.3 2.3'),
  ),

  row(
    ['LGPL-2.0-only', 'LGPL-2.1-only'],
    ['GPL-2.0-only', 'GPL-3.0-only'],
    'permitted',
    'A work under the LGPL may be taken under the GPL, version 2 or newer.',
    read('LGPL-2.0 3; LGPL-2.1 3'),
  ),
  row(
    ['LGPL-3.0-only'],
    ['GPL-3.0-only'],
    'permitted',
    'A work under the LGPL may be taken under the GPL of the same version.',
    read('LGPL-3.0 2'),
  ),
  row(
    ['GPL-3.0-only'],
    ['AGPL-3.0-only'],
    'ask',
    'Parts under both may be joined, and each keeps its license: which part is under which?',
    read('GPL-3.0 13'),
  ),
  row(
    ['AGPL-3.0-only'],
    ['GPL-3.0-only'],
    'ask',
    'Parts under both may be joined, and each keeps its license: which part is under which?',
    read('AGPL-3.0 13'),
  ),
  row(
    ['gpl', 'lgpl', 'agpl'],
    ['gpl', 'lgpl', 'agpl'],
    'not-permitted',
    'Another version of the GPL may be chosen only where the author wrote "or later".',
    read('GPL-2.0 9', gnuList),
  ),
  row(
    ['gpl', 'lgpl', 'agpl'],
    ['*'],
    'not-permitted',
    'The whole changed work must be under the GPL.',
    derived('GPL-3.0 5(c)'),
  ),
];

function row(
  from: readonly string[],
  to: readonly string[],
  answer: Answer,
  why: string,
  basis: Basis,
): Move {
  return { from, to, answer, why, ...basis };
}

/** The first row that fits; the table has one for any pair. */
export function moveOf(from: License, to: License): Move {
  const found = moves.find(
    move =>
      move.from.some(word => fits(word, from)) &&
      move.to.some(word => (word === 'same' ? from.id === to.id : fits(word, to))),
  );
  if (found === undefined) throw new Error(`The table of moves has no row for ${from.id} and ${to.id}.`);
  return found;
}

function fits(word: string, license: License): boolean {
  return (
    word === '*' || word === license.id || word === license.family || word === `cc:${license.elements ?? ''}`
  );
}
