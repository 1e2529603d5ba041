import { describe, expect, test } from 'vitest';
import { parseRevisionSpec } from './revision-spec.ts';

const read = (text: string) => parseRevisionSpec(text).map(spec => [spec.revision, spec.path]);

describe('parseRevisionSpec', () => {
  test.each([
    ['HEAD', [['HEAD', '']]],
    ['v1:', [['v1', '']]],
    ['v1:parts/shell.stl', [['v1', 'parts/shell.stl']]],
    ['v1:./parts//a:b/', [['v1', 'parts/a:b']]],
    ['v1:a..b.stl', [['v1', 'a..b.stl']]],
    ['HEAD@{2024-05-01 12:00:00}:x.stl', [['HEAD@{2024-05-01 12:00:00}', 'x.stl']]],
    [
      'v1..v2',
      [
        ['v1', ''],
        ['v2', ''],
      ],
    ],
    [
      'v1..',
      [
        ['v1', ''],
        ['HEAD', ''],
      ],
    ],
    [
      '..v2',
      [
        ['HEAD', ''],
        ['v2', ''],
      ],
    ],
    [
      'v1..v2:parts',
      [
        ['v1', 'parts'],
        ['v2', 'parts'],
      ],
    ],
  ])('%s', (text, expected) => {
    expect(read(text)).toEqual(expected);
  });

  test.each([
    '',
    ':x',
    ':/fix',
    '..',
    'a...b',
    'a..b..c',
    '-rf',
    '--output=x',
    'a..--exec',
    '^main',
    'a\nb',
    'v1:../x',
    'v1:a/../../x',
  ])('refuses %j', text => {
    expect(() => parseRevisionSpec(text)).toThrow(expect.objectContaining({ code: 'revision-bad' }));
  });
});
