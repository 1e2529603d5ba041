import { oneLine } from '../source/commit-object.ts';

/** What a text says of its license. */
export type LicenseReading =
  | { readonly kind: 'certain'; readonly expression: string; readonly by: string }
  /** Something was found that a person must judge. */
  | { readonly kind: 'guess'; readonly expression: string | null; readonly by: string }
  | { readonly kind: 'nothing' };

/**
 * Titles that stand alone for one license of the SPDX License List, as the texts themselves begin. From memory of
 * those texts; checked against the identifiers of the list.
 */
const titles: readonly (readonly [RegExp, string])[] = [
  [/^(the )?mit license( \(mit\))?$/, 'MIT'],
  [/^apache license,? version 2\.0$/, 'Apache-2.0'],
  [/^(creative commons )?attribution 4\.0 international$/, 'CC-BY-4.0'],
  [/^(creative commons )?attribution-sharealike 4\.0 international$/, 'CC-BY-SA-4.0'],
  [/^(creative commons )?attribution-noncommercial 4\.0 international$/, 'CC-BY-NC-4.0'],
  [/^(creative commons )?attribution-noncommercial-sharealike 4\.0 international$/, 'CC-BY-NC-SA-4.0'],
  [/^(creative commons )?attribution-noderivatives 4\.0 international$/, 'CC-BY-ND-4.0'],
  [/^(creative commons )?attribution-noncommercial-noderivatives 4\.0 international$/, 'CC-BY-NC-ND-4.0'],
  [/^(creative commons )?cc0 1\.0 universal$/, 'CC0-1.0'],
  [/^cern open hardware licence version 2 - strongly reciprocal$/, 'CERN-OHL-S-2.0'],
  [/^cern open hardware licence version 2 - weakly reciprocal$/, 'CERN-OHL-W-2.0'],
  [/^cern open hardware licence version 2 - permissive$/, 'CERN-OHL-P-2.0'],
  [/^mozilla public license,? version 2\.0$/, 'MPL-2.0'],
  [/^boost software license - version 1\.0( - august 17th, 2003)?$/, 'BSL-1.0'],
];

/** Texts that leave open which of two identifiers is meant: only whoever released the work can say `or later`. */
const open: readonly (readonly [RegExp, string])[] = [
  [/^gnu general public license,? version 3/, 'GPL-3.0-only'],
  [/^gnu general public license,? version 2/, 'GPL-2.0-only'],
  [/^gnu lesser general public license,? version 3/, 'LGPL-3.0-only'],
  [/^gnu lesser general public license,? version 2\.1/, 'LGPL-2.1-only'],
  [/^gnu affero general public license,? version 3/, 'AGPL-3.0-only'],
];

/** Addresses of deeds: kind and version. Source: the addresses that the license texts themselves name. */
const deed = /creativecommons\.org\/licenses\/(by(?:-nc)?(?:-sa|-nd)?)\/([1-4]\.[05])\b/gi;
const dedication = /creativecommons\.org\/publicdomain\/zero\/1\.0\b/i;

/** How many lines at the top may hold the title: some texts put a name and a year before it. */
const titleLines = 12;

/**
 * What a LICENSE or README says: certain only with an `SPDX-License-Identifier:` line (SPDX Specification 2.3,
 * annex E) or, in a license file, a known title as a line of its own near the top. A deed's address, or a text that
 * two identifiers share, is a guess.
 *
 * @param isLicenseFile titles count in license files alone: a README may speak of others' licenses
 * @param valid whether an expression is one that a manifest may hold
 */
export function readLicense(
  text: string,
  isLicenseFile: boolean,
  valid: (expression: string) => boolean,
): LicenseReading {
  const stated = [
    ...new Set(
      [...text.matchAll(/SPDX-License-Identifier:[ \t]*([^\r\n]+)/g)].map(match => expressionOf(match[1])),
    ),
  ];
  if (stated.length === 1) {
    const [expression] = stated;
    const by = 'an SPDX-License-Identifier line';
    return valid(expression)
      ? { kind: 'certain', expression, by }
      : { kind: 'guess', expression: null, by: `${by} that is no valid expression` };
  }
  if (stated.length > 1)
    return { kind: 'guess', expression: null, by: 'several SPDX-License-Identifier lines' };
  if (isLicenseFile) {
    const lines = topLines(text);
    const found = new Set(
      titles.flatMap(([title, id]) => (lines.some(line => title.test(line)) ? [id] : [])),
    );
    if (found.size === 1) return { kind: 'certain', expression: [...found][0], by: 'its title' };
    if (found.size > 1) return { kind: 'guess', expression: null, by: 'the titles of several licenses' };
    for (const [title, id] of open)
      if (lines.some(line => title.test(line)))
        return {
          kind: 'guess',
          expression: id,
          by: 'its title, which leaves open whether later versions may be chosen',
        };
  }
  const deeds = new Set([...text.matchAll(deed)].map(match => `CC-${match[1].toUpperCase()}-${match[2]}`));
  if (dedication.test(text)) deeds.add('CC0-1.0');
  if (deeds.size === 1) return { kind: 'guess', expression: [...deeds][0], by: 'the address of a license' };
  return deeds.size > 1
    ? { kind: 'guess', expression: null, by: 'the addresses of several licenses' }
    : { kind: 'nothing' };
}

/** Without the end of a comment around it. */
function expressionOf(text: string): string {
  return oneLine(text.replace(/(\*\/|-->|#+)\s*$/, ''), 500);
}

/** Lines as titles are written: marks of headings gone, dashes alike, lines that one title is broken over joined. */
function topLines(text: string): string[] {
  const lines = text
    .slice(0, 4000)
    .split(/\r?\n/)
    .map(line =>
      line
        .toLowerCase()
        .replace(/^[\s#=*_>-]+|[\s#=*_:.]+$/g, '')
        .replace(/[‐-―]/g, '-')
        .replace(/\s+/g, ' '),
    )
    .filter(line => line !== '')
    .slice(0, titleLines);
  const joined = lines.slice(0, -1).map((line, i) => `${line} ${lines[i + 1].replace(/,.*$/, '')}`);
  return [...lines, ...joined];
}
