import type { BillFile, BillRevision } from '@kinprint/registry';
import { clean } from '../terminal/words.ts';

/** Names of a revision or of one of its files, each once, in the manifest's order; on one line, nothing invisible. */
export function namesOf(revision: BillRevision, file: BillFile | null = null): string[] {
  const { authors, parts } = revision;
  const own = file === null ? parts : parts.filter(part => file.parts.includes(part.id));
  const of = own.flatMap(part => part.authors ?? []);
  const everybody = file === null ? [...authors, ...of] : of.length > 0 ? of : authors;
  return [...new Set(everybody.map(({ name }) => clean(name.replace(/\s+/gu, ' ').trim())))];
}

/**
 * Notices as they are customary: the year in which the revision was recorded, then a name. Manifests tell who made
 * something; whether an author has passed the copyright on they do not tell.
 */
export function copyrightLines(revision: BillRevision, file: BillFile | null = null): string[] {
  const year = revision.date?.slice(0, 4) ?? null;
  return namesOf(revision, file).map(name => `Copyright ${year === null ? '' : `${year} `}${name}`);
}

/** Said beside such notices. */
export const authorsNote =
  'Copyright notices are made of the authors that the manifest names and of the year in which the revision was recorded.';
