import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { isId } from '@kinprint/manifest';
import { describe, expect, test } from 'vitest';
import { clashes, foldPath, nameTrouble } from '../../snapshot/portable-names.ts';
import { idGiver, idOf, placesBelow, safePath, titleOf } from './names.ts';

const common = JSON.parse(
  readFileSync(new URL('../../../../../schemas/common.schema.json', import.meta.url), 'utf8'),
) as { $defs: { path: { pattern: string; maxLength: number } } };
const pathPattern = new RegExp(common.$defs.path.pattern, 'u');

/** Paths as a file system may have them: no empty steps, no '.' and '..'. */
const step = fc
  .string({ unit: 'binary', minLength: 1, maxLength: 300 })
  .map(text => text.replaceAll('/', '.'))
  .filter(text => text !== '.' && text !== '..');
const anyPath = fc
  .array(
    fc.oneof(step, fc.constantFrom('a', 'A', 'b.stl', 'B.STL', 'c.', 'nul', 'Com1.stl', 'é', 'e\u0301')),
    { minLength: 1, maxLength: 6 },
  )
  .map(steps => steps.join('/'));

describe('names', () => {
  test('ids', () => {
    expect(idOf('Cuff_Meshes v2.1')).toBe('cuff-meshes-v2-1');
    expect(idOf('shellLeft')).toBe('shell-left');
    expect(idOf('Größe 110%')).toBe('grosse-110pct');
    expect(idOf('ÆRØ þing Łódź')).toBe('aero-thing-lodz');
    expect(idOf('手')).toBe('');
    expect([idOf('Aux'), idOf('com1'), idOf('aux-cuff')]).toEqual(['aux-1', 'com1-1', 'aux-cuff']);
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary', maxLength: 200 }),
        text => idOf(text) === '' || (isId(idOf(text)) && nameTrouble(idOf(text)) === null),
      ),
    );
  });

  test('each id is given once, whatever is wanted', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.string({ maxLength: 90 }).map(idOf), { maxLength: 3 }), { maxLength: 30 }),
        wishes => {
          const give = idGiver();
          const given = wishes.map(wish => give(wish, 'part'));
          expect(new Set(given).size).toBe(given.length);
          expect(given.every(isId)).toBe(true);
        },
      ),
    );
  });

  test('titles', () => {
    expect(titleOf('utensil-cuff_meshes')).toBe('Utensil cuff meshes');
    expect(titleOf('shellLeft')).toBe('Shell Left');
    expect(titleOf('--')).toBe('Untitled');
  });

  test('paths that a manifest can hold, for any path at all', () => {
    expect(safePath('a/.hidden/x:y.stl')).toBe('a/_hidden/x_y.stl');
    expect(safePath('CON/aux.stl')).toBe('_CON/_aux.stl');
    fc.assert(
      fc.property(anyPath, path => {
        const safe = safePath(path);
        expect(safe).toMatch(pathPattern);
        expect(safe.isWellFormed()).toBe(true);
        expect(nameTrouble(safe)).toBe(null);
      }),
    );
  });

  test('every file has a place of its own, on file systems that know no case as well', () => {
    expect([...placesBelow('parts', ['x/a.stl', 'y/A.stl', 'y/b.stl']).values()]).toEqual([
      'parts/x/a.stl',
      'parts/y/A.stl',
      'parts/b.stl',
    ]);
    expect([...placesBelow('', ['LICENSE', 'x/LICENSE']).values()]).toEqual(['LICENSE', 'x-LICENSE']);
    fc.assert(
      fc.property(
        fc.uniqueArray(anyPath, { maxLength: 20 }),
        fc.constantFrom('parts', ''),
        (paths, folder) => {
          const places = [...placesBelow(folder, paths).values()];
          expect(places).toHaveLength(paths.length);
          expect(clashes(places)).toEqual([]);
          expect(new Set(places.map(foldPath)).size).toBe(paths.length);
          for (const place of places) {
            expect(place).toMatch(pathPattern);
            expect(place.length).toBeLessThanOrEqual(common.$defs.path.maxLength);
          }
        },
      ),
    );
  });
});
