import { readFileSync } from 'node:fs';

/** A file of `test/reference/license`; NOTICE.md there names the sources. */
export function licenseReference<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(`../reference/license/${name}`, import.meta.url), 'utf8')) as T;
}
