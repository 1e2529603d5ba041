import { readdirSync, readFileSync } from 'node:fs';
import { findingCodes } from '@kinprint/registry';
import { expect, it } from 'vitest';

it('every finding is planted in some test', () => {
  const folders = [import.meta.dirname, `${import.meta.dirname}/../../packages/registry/src/check/rules`];
  const tests = folders.flatMap(folder =>
    readdirSync(folder)
      .filter(name => name.endsWith('.test.ts'))
      .map(name => readFileSync(`${folder}/${name}`, 'utf8')),
  );
  const planted = new Set(
    tests.flatMap(text => [...text.matchAll(/code: '([a-z-]+)'/g)].map(([, code]) => code)),
  );
  expect(Object.keys(findingCodes).filter(code => !planted.has(code))).toEqual([]);
});
