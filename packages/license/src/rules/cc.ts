import { advice, ccFaq, duty, memory, read } from './basis.ts';
import { chartElements } from './charts.ts';
import type { Basis, Duty, Elements, License } from './types.ts';

const versions = ['1.0', '2.0', '2.5', '3.0', '4.0'] as const;

/** Ported licenses that the SPDX license list names. */
const ports: Readonly<Record<string, readonly string[]>> = {
  BY: ['2.5-AU', '3.0-AT', '3.0-AU', '3.0-DE', '3.0-IGO', '3.0-NL', '3.0-US'],
  'BY-NC': ['3.0-DE', '3.0-IGO'],
  'BY-NC-ND': ['3.0-DE', '3.0-IGO'],
  'BY-NC-SA': ['2.0-DE', '2.0-FR', '2.0-UK', '3.0-DE', '3.0-IGO'],
  'BY-ND': ['3.0-DE'],
  'BY-SA': ['2.0-UK', '2.1-JP', '3.0-AT', '3.0-DE', '3.0-IGO'],
};

/** All six Creative Commons licenses in all versions and listed ports, CC0 and the public domain mark. */
export const ccLicenses: readonly License[] = [
  publicDomain(
    'CC0-1.0',
    'CC0',
    'Creative Commons Zero 1.0',
    'https://creativecommons.org/publicdomain/zero/1.0/',
  ),
  publicDomain(
    'CC-PDM-1.0',
    'PDM',
    'Public Domain Mark 1.0',
    'https://creativecommons.org/publicdomain/mark/1.0/',
  ),
  ...chartElements.slice(2).flatMap(elements => [
    ...versions.map(version => ccLicense(elements, version, '')),
    ...(ports[elements] ?? []).map(name => {
      const [version, port] = name.split('-');
      return ccLicense(elements, version, port);
    }),
  ]),
];

function publicDomain(id: string, elements: 'CC0' | 'PDM', title: string, url: string): License {
  const free = read('section on credit for CC0', ccFaq);
  return {
    id,
    title,
    url,
    family: 'public-domain',
    elements,
    version: '1.0',
    port: '',
    adapt: { may: 'share', why: 'No right is held back.', ...free },
    commercial: { may: true, why: 'No right is held back.', ...free },
    collect: { answer: 'permitted', why: 'No right is held back.', ...read('collection table, PD', ccFaq) },
    duties: [advice('credit', 'share', 'Naming the author is good custom, no duty.', free)],
  };
}

function ccLicense(elements: Elements, version: string, port: string): License {
  const id = `CC-${elements}-${version}${port === '' ? '' : `-${port}`}`;
  const path = `${elements.toLowerCase()}/${version}/${port === '' ? '' : `${port.toLowerCase()}/`}`;
  const [nc, nd, four] = [elements.includes('NC'), elements.includes('ND'), version === '4.0'];
  const cell = read(`collection table, ${elements}`, ccFaq);
  const text = textOf(port);
  return {
    id,
    title: `Creative Commons ${elements} ${version}${port === '' ? '' : ` ${port}`}`,
    url: `https://creativecommons.org/licenses/${path}`,
    family: 'cc',
    elements,
    version,
    port,
    adapt: !nd
      ? {
          may: 'share',
          why: 'Adaptations may be shared.',
          ...(four ? read(`${id} 2(a)(1)`) : text(`${id} 3`)),
        }
      : four
        ? {
            may: 'keep',
            why: 'A changed version may be made and kept, and not be shared.',
            ...read(`${id} 2(a)(1)(B), 3(a)`),
          }
        : { may: 'no', why: 'A changed version may not even be made.', ...text(`${id} 3`) },
    commercial: nc
      ? {
          may: false,
          why: 'Not for uses mainly aimed at commercial advantage or payment; the use counts, not who uses it.',
          ...(four ? read(`${id} 1, 2(a)(1)`) : text(`${id} 4(${elements.includes('SA') ? 'c' : 'b'})`)),
        }
      : {
          may: true,
          why: 'Uses for money are allowed.',
          ...(four ? read(`${id} 2(a)(1)`) : text(`${id} 3`)),
        },
    collect: {
      answer: 'permitted',
      why: nc
        ? 'It may lie unchanged in a pack that is given away without commercial aim.'
        : 'It may lie unchanged in any pack, and keeps its license.',
      ...cell,
    },
    duties: [
      ...(four ? dutiesOf4(id) : dutiesBefore4(id, elements, port)),
      ...shareAlike(id, elements, version, port),
    ],
  };
}

/** The English texts were read; ports are in other languages, and taken to say the same. */
function textOf(port: string): (clause: string) => Basis {
  return port === '' ? read : memory;
}

/** Source: cc-by-4.0 section 3(a), whose text all six share. */
function dutiesOf4(id: string): Duty[] {
  const at = (clause: string): Basis => read(`${id} ${clause}`);
  const terms = id.includes('BY-SA') || id.includes('NC-SA') ? '2(a)(5)(C)' : '2(a)(5)(B)';
  return [
    duty('credit', 'share', 'Name the author, as the author asks to be named.', at('3(a)(1)(A)(i)')),
    duty(
      'notices',
      'share',
      'Keep the notices of copyright, license and disclaimer that came along.',
      at('3(a)(1)(A)(ii)-(iv)'),
    ),
    advice('work-link', 'share', 'Link to the work, where practicable.', at('3(a)(1)(A)(v)')),
    duty(
      'mark-changes',
      'adapt',
      'Say that it was changed, and keep what was said of earlier changes.',
      at('3(a)(1)(B)'),
    ),
    duty(
      'license-link',
      'share',
      'Say that it is under this license, with its text or a link.',
      at('3(a)(1)(C)'),
    ),
    advice(
      'title',
      'share',
      'Give the title; recommended in version 4.0.',
      read('section on attribution', ccFaq),
    ),
    duty(
      'no-extra-terms',
      'share',
      'Add no terms and no technical locks that take away what the license grants.',
      at(terms),
    ),
    duty('no-endorsement', 'share', 'Do not suggest that the author stands behind you.', at('2(a)(6)')),
  ];
}

/** Sections by name of the license: where its share-alike and noncommercial clauses push the credit clause down. */
function dutiesBefore4(id: string, elements: Elements, port: string): Duty[] {
  const pushed = Number(elements.includes('SA')) + Number(elements.includes('NC'));
  const clause = `${id} 4(${'bcd'[pushed]})`;
  const text = textOf(port);
  const credit = text(clause);
  return [
    duty('credit', 'share', 'Name the author or the pseudonym, if one was supplied.', credit),
    duty('title', 'share', 'Give the title, if one was supplied.', credit),
    advice('work-link', 'share', 'Give the address that the author attached, where practicable.', credit),
    duty('notices', 'share', 'Keep all copyright notices.', credit),
    duty('license-link', 'share', 'Include the license or its address with every copy.', text(`${id} 4(a)`)),
    duty('mark-changes', 'adapt', 'Name the use that the adaptation makes of the work.', credit),
    duty(
      'no-extra-terms',
      'share',
      'Add no terms and no technical locks that take away what the license grants.',
      text(`${id} 4(a)`),
    ),
  ];
}

function shareAlike(id: string, elements: Elements, version: string, port: string): Duty[] {
  if (!elements.includes('SA')) return [];
  const four = version === '4.0';
  const same = four ? read(`${id} 3(b)(1)`) : textOf(port)(`${id} 4(b)`);
  return [
    duty(
      'same-license',
      'adapt',
      'Put a changed version under the same license, or one that it names.',
      same,
    ),
    ...(four
      ? [
          duty(
            'license-link',
            'adapt',
            'Include the text of the license of the changed version, or link to it.',
            read(`${id} 3(b)(2)`),
          ),
          duty('no-extra-terms', 'adapt', 'Add no terms to the changed version.', read(`${id} 3(b)(3)`)),
        ]
      : []),
  ];
}

/** Which later licenses an adaptation of a share-alike work may move to. */
export interface VersionRule extends Basis {
  readonly elements: 'BY-SA' | 'BY-NC-SA';
  readonly version: string;
  /** Whether a later version with the same elements may be chosen. */
  readonly later: boolean;
  /** Whether a port of this or a later version may be chosen. */
  readonly ports: boolean;
  /** Licenses of others that were named compatible. */
  readonly compatible: readonly string[];
}

const named = ['LAL-1.3', 'GPL-3.0-only'];

/** Source: the clauses named; that BY-SA 1.0 has no later version is confirmed by the FAQ. */
export const versionRules: readonly VersionRule[] = [
  rule('BY-SA', '1.0', false, [], read('CC-BY-SA-1.0 4(b)')),
  rule('BY-SA', '2.0', true, [], read('CC-BY-SA-2.0 4(b)')),
  rule('BY-SA', '2.1', true, [], memory('CC-BY-SA-2.1-JP 4')),
  rule('BY-SA', '2.5', true, [], read('CC-BY-SA-2.5 4(b)')),
  rule('BY-SA', '3.0', true, [], read('CC-BY-SA-3.0 4(b)')),
  rule('BY-SA', '4.0', true, named, read('CC-BY-SA-4.0 3(b)(1)')),
  rule('BY-NC-SA', '1.0', false, [], read('CC-BY-NC-SA-1.0 4(b)')),
  rule('BY-NC-SA', '2.0', true, [], read('CC-BY-NC-SA-2.0 4(b)')),
  rule('BY-NC-SA', '2.5', true, [], read('CC-BY-NC-SA-2.5 4(b)')),
  rule('BY-NC-SA', '3.0', true, [], read('CC-BY-NC-SA-3.0 4(b)')),
  rule('BY-NC-SA', '4.0', true, [], read('CC-BY-NC-SA-4.0 3(b)(1)')),
];

function rule(
  elements: VersionRule['elements'],
  version: string,
  later: boolean,
  compatible: readonly string[],
  basis: Basis,
): VersionRule {
  return { elements, version, later, ports: later, compatible, ...basis };
}
