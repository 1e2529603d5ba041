import { advice, derived, duty, read } from './basis.ts';
import type { Basis, Duty, Family, License, Verdict } from './types.ts';

interface Row {
  readonly id: string;
  readonly title: string;
  readonly family: Family;
  readonly version?: string;
  readonly url?: string;
  readonly collect?: Verdict;
  readonly duties: readonly Duty[];
  readonly basis: Basis;
}

const open = derived('grant of rights');

/** Licenses for hardware and software. All let changed versions be shared and allow use for money. */
export const otherLicenses: readonly License[] = [
  ...['MIT', 'ISC'].map(id => permissive(id, `${id} License`)),
  row({
    id: 'Zlib',
    title: 'zlib License',
    family: 'permissive',
    basis: read('Zlib, grant of rights'),
    duties: [
      duty('credit', 'share', 'Keep the notice, which names the author.', read('Zlib 3')),
      duty('notices', 'share', 'Keep the notice.', read('Zlib 3')),
      duty('mark-changes', 'adapt', 'Mark a changed version plainly as such.', read('Zlib 2')),
      duty('no-endorsement', 'share', 'Do not say that you made the original.', read('Zlib 1')),
    ],
  }),
  permissive('BSD-2-Clause', 'BSD 2-Clause License'),
  permissive('BSD-3-Clause', 'BSD 3-Clause License', [
    duty(
      'no-endorsement',
      'share',
      'Do not use the names of the authors to endorse what you made.',
      read('BSD-3-Clause 3'),
    ),
  ]),
  ...[
    ['MIT-0', 'MIT No Attribution'],
    ['0BSD', 'BSD Zero Clause License'],
    ['Unlicense', 'The Unlicense'],
  ].map(([id, title]) =>
    row({
      id,
      title,
      family: 'public-domain',
      basis: read(`${id}, text`),
      duties: [advice('credit', 'share', 'Naming the author is good custom, no duty.', read(`${id}, text`))],
    }),
  ),
  apache('Apache-2.0', 'Apache License 2.0', '2.0', read('Apache-2.0 4')),
  apache('SHL-0.5', 'Solderpad Hardware License 0.5', '0.5', read('SHL-0.5, Redistribution')),
  apache('SHL-0.51', 'Solderpad Hardware License 0.51', '0.51', read('SHL-0.51 4')),
  cern('P', 'Permissive', [
    duty('notices', 'share', 'Keep all notices.', read('CERN-OHL-P-2.0 3.1')),
    duty(
      'mark-changes',
      'adapt',
      'Add a notice with the date that says what was changed.',
      read('CERN-OHL-P-2.0 3.3'),
    ),
    duty(
      'license-text',
      'share',
      'Give every recipient a copy of CERN-OHL-P, also where the changed work is under other terms.',
      read('CERN-OHL-P-2.0 3.4'),
    ),
    duty(
      'notices',
      'print',
      'Who gets the printed thing must have access to the notices.',
      read('CERN-OHL-P-2.0 4'),
    ),
  ]),
  cern('W', 'Weakly Reciprocal', reciprocal('W')),
  cern('S', 'Strongly Reciprocal', reciprocal('S'), {
    answer: 'ask',
    why: 'Putting it into a larger work counts as a change, and the whole is covered, available components excepted.',
    ...read('CERN-OHL-S-2.0 3.2, 3.3(d)'),
  }),
  cernOne('1.1', '3.3(b)', '3.3(c)'),
  cernOne('1.2', '3.4(b)', '3.4(e)'),
  ...['1.0', '2.0'].map(version => gnu('gpl', 'GPL', version, read(`GPL-${version} 1`))),
  gnu('gpl', 'GPL', '3.0', read('GPL-3.0 4')),
  ...['2.0', '2.1', '3.0'].map(version =>
    gnu(
      'lgpl',
      'LGPL',
      version,
      version === '3.0' ? derived('GPL-3.0 4, which LGPL-3.0 takes over') : read(`LGPL-${version} 1`),
    ),
  ),
  ...['1.0', '3.0'].map(version =>
    gnu('agpl', 'AGPL', version, read(`AGPL-${version} ${version === '3.0' ? '4' : '1'}`)),
  ),
  ...['1.2', '1.3'].map(version => freeArt(version)),
  row({
    id: 'TAPR-OHL-1.0',
    title: 'TAPR Open Hardware License 1.0',
    family: 'tapr',
    version: '1.0',
    basis: read('TAPR-OHL-1.0 preamble'),
    collect: {
      answer: 'ask',
      why: 'An archive that holds the license file puts every file in it under the license, unless excluded.',
      ...read('TAPR-OHL-1.0 1.4'),
    },
    duties: [
      duty('notices', 'share', 'Keep all notices.', read('TAPR-OHL-1.0 4.1')),
      duty(
        'same-license',
        'adapt',
        'Put a changed version under the same license.',
        read('TAPR-OHL-1.0 preamble'),
      ),
      duty(
        'mark-changes',
        'adapt',
        'Add a text file of the changes, and keep the changed files as they were and as they are.',
        read('TAPR-OHL-1.0 preamble'),
      ),
      advice(
        'work-link',
        'adapt',
        'Try to send the change to the developers who are listed.',
        read('TAPR-OHL-1.0 preamble'),
      ),
      duty(
        'source',
        'print',
        'Give the documentation along with the printed thing, or offer it free for three years.',
        read('TAPR-OHL-1.0 preamble'),
      ),
    ],
  }),
];

function permissive(id: string, title: string, more: readonly Duty[] = []): License {
  const basis = read(id.startsWith('BSD') ? `${id} 1` : `${id}, permission notice`);
  return row({
    id,
    title,
    family: 'permissive',
    basis,
    duties: [
      duty('credit', 'share', 'Keep the copyright notice, which names the author.', basis),
      duty('notices', 'share', 'Keep the copyright notice and the permission notice.', basis),
      duty('license-text', 'share', 'Include the text of the license.', basis),
      ...more,
    ],
  });
}

function apache(id: string, title: string, version: string, basis: Basis): License {
  // Version 0.5 numbers nothing.
  const at = (letter: string): Basis =>
    id === 'SHL-0.5' ? basis : { ...basis, clause: `${basis.clause}(${letter})` };
  return row({
    id,
    title,
    family: 'apache',
    version,
    basis,
    duties: [
      duty('license-text', 'share', 'Give a copy of the license.', at('a')),
      duty('mark-changes', 'adapt', 'Let changed files say prominently that you changed them.', at('b')),
      duty('credit', 'share', 'Keep the notices of copyright and attribution.', at('c')),
      duty('notices', 'share', 'Pass on what the NOTICE file says, if there is one.', at('d')),
    ],
  });
}

function cern(letter: 'P' | 'W' | 'S', words: string, duties: readonly Duty[], collect?: Verdict): License {
  const id = `CERN-OHL-${letter}-2.0`;
  return row({
    id,
    title: `CERN Open Hardware Licence 2, ${words}`,
    family: letter === 'P' ? 'cern-p' : letter === 'W' ? 'cern-w' : 'cern-s',
    version: '2.0',
    basis: read(`${id} 3`),
    duties: [
      duty(
        'credit',
        'share',
        'Keep the notices of copyright and acknowledgement, which name the authors.',
        read(`${id} 3.1`),
      ),
      ...duties,
    ],
    ...(collect === undefined ? {} : { collect }),
  });
}

function reciprocal(letter: 'W' | 'S'): Duty[] {
  const at = (clause: string): Basis => (letter === 'S' ? read : derived)(`CERN-OHL-${letter}-2.0 ${clause}`);
  return [
    duty('notices', 'share', 'Keep all notices.', at('3.1')),
    duty('mark-changes', 'adapt', 'Add a notice with the date that says what was changed.', at('3.3(b)')),
    duty(
      'source',
      'share',
      'Give the complete source in the form preferred for changes, or say where it is.',
      at('3.3(c)'),
    ),
    duty('same-license', 'adapt', `Put the changed whole under CERN-OHL-${letter}.`, at('3.3(d)')),
    duty(
      'source',
      'print',
      'Tell everybody who gets the printed thing where the complete source is.',
      at('4'),
    ),
  ];
}

/** In version 1.1 and 1.2 the clauses stand at other places. */
function cernOne(version: string, marks: string, same: string): License {
  const at = (clause: string): Basis => read(`CERN-OHL-${version} ${clause}`);
  return row({
    id: `CERN-OHL-${version}`,
    title: `CERN Open Hardware Licence ${version}`,
    family: 'cern-1',
    version,
    basis: at('3.2'),
    duties: [
      duty('notices', 'share', 'Keep all notices.', at('3.1')),
      duty('mark-changes', 'adapt', 'Say what was changed, and when.', at(marks)),
      duty(
        'same-license',
        'adapt',
        'Put a changed version under the same license, or a later one.',
        at(same),
      ),
    ],
  });
}

/** The text in the SPDX list is French. Version 1.2 does not ask to say what was changed. */
function freeArt(version: string): License {
  const at = (clause: string): Basis => read(`LAL-${version} ${clause}`);
  const same = at(version === '1.2' ? '4' : '2.3');
  return row({
    id: `LAL-${version}`,
    title: `Free Art License ${version}`,
    family: 'free-art',
    version,
    basis: at('2.2'),
    duties: [
      duty('credit', 'share', 'Name the author of the originals.', at('2.2')),
      duty('license-text', 'share', 'Attach the license, or say where it stands.', at('2.2')),
      duty('work-link', 'share', 'Say where the originals can be had.', at('2.2')),
      ...(version === '1.2'
        ? []
        : [duty('mark-changes', 'adapt', 'Say that it was changed, and how if you can.', at('2.3'))]),
      duty(
        'same-license',
        'adapt',
        'Put a changed version under the same license, or one that it names.',
        same,
      ),
    ],
  });
}

/** Where each duty stands, by generation of the texts. */
function gnuClauses(
  family: 'gpl' | 'lgpl' | 'agpl',
  version: string,
): Record<'keep' | 'mark' | 'same' | 'source' | 'beside', string> {
  if (version === '3.0') return { keep: '4', mark: '5(a)', same: '5(c)', source: '1, 6', beside: '5' };
  if (family === 'lgpl') return { keep: '1', mark: '2(b)', same: '2(c)', source: '4', beside: '2' };
  return { keep: '1', mark: '2(a)', same: '2(b)', source: '3', beside: '2' };
}

function gnu(family: 'gpl' | 'lgpl' | 'agpl', name: string, version: string, basis: Basis): License {
  const at = gnuClauses(family, version);
  // LGPL 3.0 is GPL 3.0 with permissions added.
  const stands = (clause: string): Basis =>
    family === 'lgpl' && version === '3.0'
      ? derived(`GPL-3.0 ${clause}, which LGPL-3.0 takes over`)
      : read(`${name}-${version} ${clause}`);
  return row({
    id: `${name}-${version}-only`,
    title: `GNU ${name} ${version}`,
    family,
    version,
    basis,
    collect: {
      answer: 'permitted',
      why: 'Separate works side by side are mere aggregation; each keeps its license.',
      ...stands(`${at.beside}, last paragraph`),
    },
    duties: [
      duty('credit', 'share', 'Keep the copyright notices, which name the authors.', stands(at.keep)),
      duty('notices', 'share', 'Keep all notices.', stands(at.keep)),
      duty('license-text', 'share', 'Give a copy of the license.', stands(at.keep)),
      duty('mark-changes', 'adapt', 'Say prominently that it was changed, with the date.', stands(at.mark)),
      duty('same-license', 'adapt', 'Put the whole changed work under this license.', stands(at.same)),
      duty(
        'source',
        'share',
        'Give the source in the form preferred for changes; a mesh may not be that.',
        stands(at.source),
      ),
    ],
  });
}

function row({ id, title, family, version = '', url, collect, duties, basis }: Row): License {
  return {
    id,
    title,
    url: url ?? `https://spdx.org/licenses/${id}.html`,
    family,
    elements: null,
    version,
    port: '',
    adapt: { may: 'share', why: 'Changed versions may be shared.', ...basis },
    commercial: { may: true, why: 'Uses for money are allowed.', ...basis },
    collect: collect ?? {
      answer: 'permitted',
      why: 'It may lie beside other works, and keeps its license.',
      ...open,
    },
    duties,
  };
}
