import type { CreditEntry, Credits } from '@kinprint/license';

/** What a license asks to be said of every work, as sentences without layout. */
export interface CreditPhrases {
  readonly title: string;
  /** `by A and B`; says so where nobody is named. */
  readonly by: string;
  readonly license: string;
  readonly changes: readonly string[];
}

const relationWords = {
  copy: 'Copied',
  mirror: 'Mirrored',
  rescale: 'Rescaled',
  remix: 'Changed',
  combination: 'Combined with others',
  revision: 'Revised',
} as const;

export function phrasesOf(entry: CreditEntry): CreditPhrases {
  return {
    title: entry.title,
    by: entry.authors.length === 0 ? 'no author named' : `by ${list(entry.authors)}`,
    license:
      entry.licenses.length === 0
        ? 'no license stated: all rights reserved'
        : list(entry.licenses.map(license => license.name)),
    changes: entry.changes.map(
      ({ by, relation, changes }) =>
        `${relationWords[relation]} in ${by}${changes === null ? '.' : `: ${changes}`}`,
    ),
  };
}

/** Everybody to be named, each once, the nearest first. */
export function everybody({ work, from }: Credits): string[] {
  return [...new Set([work, ...from].flatMap(entry => entry.authors))];
}

/** `A`, `A and B`, `A, B and C`. */
export function list(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}

/** Said where works were changed (CC-BY-4.0 3(a)(1)(B), 2(a)(6)). */
export const madeFrom = 'Made from the following works. Their authors do not stand behind the changes.';
