import { afterAll, beforeAll } from 'vitest';

/** Gives the tests of a file a cache of their own. @param folder asked once they begin; `off` for none */
export function ownCache(folder: () => string): void {
  const outside = process.env['KINPRINT_CACHE'];
  beforeAll(() => {
    process.env['KINPRINT_CACHE'] = folder();
  });
  afterAll(() => {
    if (outside === undefined) delete process.env['KINPRINT_CACHE'];
    else process.env['KINPRINT_CACHE'] = outside;
  });
}
