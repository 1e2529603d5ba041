import { readFileSync } from 'node:fs';
import { parse } from 'yaml';

/** Slugs of the contributor roles of ANSI/NISO Z39.104-2022; see test/reference/manifest/NOTICE.md. */
export function roleSlugs(): readonly string[] {
  const file = new URL('../reference/manifest/credit-roles.yaml', import.meta.url);
  const { roles } = parse(readFileSync(file, 'utf8')) as {
    readonly roles: readonly { readonly slug: string }[];
  };
  return roles.map(role => role.slug);
}
