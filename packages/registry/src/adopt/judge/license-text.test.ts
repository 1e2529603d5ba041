import { describe, expect, test } from 'vitest';
import { readLicense, type LicenseReading } from './license-text.ts';

const any = (expression: string): boolean => expression !== '' && !expression.includes('?');
const license = (text: string): LicenseReading => readLicense(text, true, any);

// The first lines of the texts of the SPDX License List, from memory.
const beginnings: readonly (readonly [string, string])[] = [
  ['MIT License\n\nCopyright (c) 2024 An Author\n\nPermission is hereby granted', 'MIT'],
  ['Copyright 2024 An Author\n\nThe MIT License (MIT)\n', 'MIT'],
  [
    '                                 Apache License\n                           Version 2.0, January 2004\n',
    'Apache-2.0',
  ],
  ['Attribution-ShareAlike 4.0 International\n\n=====', 'CC-BY-SA-4.0'],
  ['# Creative Commons Attribution 4.0 International\n', 'CC-BY-4.0'],
  ['Creative Commons Legal Code\n\nCC0 1.0 Universal\n', 'CC0-1.0'],
  ['CERN Open Hardware Licence Version 2 - Strongly Reciprocal\n\n\nPreamble', 'CERN-OHL-S-2.0'],
  ['CERN Open Hardware Licence Version 2 – Permissive\r\n', 'CERN-OHL-P-2.0'],
  ['Mozilla Public License Version 2.0\n====', 'MPL-2.0'],
];

describe('reading a license', () => {
  test.each(beginnings)('a known title: %s', (text, expression) => {
    expect(license(text)).toEqual({ kind: 'certain', expression, by: 'its title' });
  });

  test('a title counts in a license file alone', () => {
    expect(readLicense('MIT License\n', false, any)).toEqual({ kind: 'nothing' });
  });

  test('an identifier counts anywhere, without the comment around it', () => {
    const expected = {
      kind: 'certain',
      expression: 'CC-BY-SA-4.0 OR MIT',
      by: 'an SPDX-License-Identifier line',
    };
    expect(readLicense('Text\n<!-- SPDX-License-Identifier: CC-BY-SA-4.0 OR MIT -->\n', false, any)).toEqual(
      expected,
    );
    expect(license('SPDX-License-Identifier: CC-BY-SA-4.0 OR MIT')).toEqual(expected);
  });

  test.each([
    ['two identifiers', 'SPDX-License-Identifier: MIT\nSPDX-License-Identifier: CC0-1.0', null],
    ['an identifier that is none', 'SPDX-License-Identifier: what?', null],
    ['two titles', 'MIT License\n\nMozilla Public License Version 2.0', null],
    [
      'a text that leaves later versions open',
      '   GNU GENERAL PUBLIC LICENSE\n     Version 3, 29 June 2007\n',
      'GPL-3.0-only',
    ],
    ['a deed', 'Free as of https://creativecommons.org/licenses/by-nc-sa/4.0/deed.en', 'CC-BY-NC-SA-4.0'],
    ['two deeds', 'creativecommons.org/licenses/by/4.0 creativecommons.org/publicdomain/zero/1.0/', null],
  ])('%s is a guess', (_, text, expression) => {
    expect(license(text)).toMatchObject({ kind: 'guess', expression });
  });

  test('other texts say nothing', () => {
    expect(license('All rights reserved. Ask first.')).toEqual({ kind: 'nothing' });
    expect(license('')).toEqual({ kind: 'nothing' });
    expect(license('This is not the MIT License at all, though it is mentioned')).toEqual({
      kind: 'nothing',
    });
  });
});
