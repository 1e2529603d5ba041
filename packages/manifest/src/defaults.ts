/** Bounds on a document, so that a stranger's file costs a message and not the machine. Chosen, no source. */
export const defaults = {
  /** Of the text in UTF-8. A manifest of 1 000 parts with all their settings has about 0.6 MB. */
  documentBytes: 1_000_000,
  /** Groups and lists within each other; the schemas need 7. */
  depth: 40,
  /** Values and keys, each counted as often as aliases repeat it. */
  values: 100_000,
  /** Signs, words, line ends and spaces; so many values in the tersest honest way of writing have about 450 000. */
  lexemes: 500_000,
  /** Anchors and aliases. Who writes a manifest by hand uses a handful; to follow them takes the square of it. */
  aliases: 1_000,
  /** Problems that are named; of more only the number is told. */
  problems: 100,
  /** Characters of an offending line that are kept. */
  sourceLine: 400,
} as const;
