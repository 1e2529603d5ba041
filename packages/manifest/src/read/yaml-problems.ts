import type { Document, YAMLError } from 'yaml';
import type { ProblemCode } from '../problem.ts';
import type { Draft } from './draft.ts';

type Told = readonly [code: ProblemCode, text: string, remedy: string];

const indent = 'Indent with spaces, the same number for all keys of a group.';
const syntax = (text: string, remedy: string): Told => ['yaml-syntax', text, remedy];

/** What the parser's codes mean, in words for people. */
const meanings: Readonly<Record<YAMLError['code'], Told>> = {
  ALIAS_PROPS: ['yaml-alias', 'An alias (*) cannot have an anchor or a tag.', 'Write the value out.'],
  BAD_ALIAS: [
    'yaml-alias',
    'An alias (*) or anchor (&) has no proper name.',
    "Put text that begins with '*' or '&' in quotes.",
  ],
  BAD_DIRECTIVE: [
    'yaml-directive',
    'Directives (lines that begin with %) are not understood.',
    'Remove the line.',
  ],
  BAD_DQ_ESCAPE: syntax(
    'A backslash in double quotes begins something unknown.',
    "Use single quotes, or write '\\\\'.",
  ),
  BAD_INDENT: syntax('The indentation does not fit.', indent),
  BAD_PROP_ORDER: syntax('An anchor or a tag stands in the wrong place.', 'Remove it.'),
  BAD_SCALAR_START: syntax('A plain value cannot begin like this.', 'Put the value in quotes.'),
  BLOCK_AS_IMPLICIT_KEY: syntax(
    'There is a group where a simple value belongs.',
    'Put text with a colon in quotes; begin a group on a line of its own.',
  ),
  BLOCK_IN_FLOW: syntax(
    'A list or group by indentation stands within brackets.',
    'Use either brackets or indentation.',
  ),
  DUPLICATE_KEY: ['duplicate-key', 'A key stands here twice.', 'Keep one of them.'],
  IMPOSSIBLE: syntax('This cannot be read.', indent),
  KEY_OVER_1024_CHARS: syntax('A key is longer than 1024 characters.', 'Is a line break missing?'),
  MISSING_CHAR: syntax(
    'A sign is missing.',
    'Close each quote and bracket; write a space after the colon of a key.',
  ),
  MULTILINE_IMPLICIT_KEY: syntax(
    'A key goes over several lines.',
    "Write 'key: value' on one line; is a colon missing?",
  ),
  MULTIPLE_ANCHORS: ['yaml-alias', 'A value has several anchors (&).', 'Keep one of them.'],
  MULTIPLE_DOCS: [
    'yaml-several-documents',
    'A second document begins here.',
    'One document a file: remove the line ---.',
  ],
  MULTIPLE_TAGS: ['yaml-tag', 'A value has several tags (!).', 'Remove them.'],
  NON_STRING_KEY: ['yaml-key', 'A key must be plain text.', 'Write the key as a word.'],
  RESOURCE_EXHAUSTION: [
    'document-too-deep',
    'Groups and lists are nested too deeply.',
    'Use the keys of the schema.',
  ],
  TAB_AS_INDENT: ['yaml-tab', 'There is a tab where spaces belong.', 'Indent with spaces.'],
  TAG_RESOLVE_FAILED: [
    'yaml-tag',
    'Tags (words that begin with !) are not understood.',
    "Remove it; put text that begins with '!' in quotes.",
  ],
  UNEXPECTED_TOKEN: syntax(
    'This does not belong here.',
    'Check quotes, brackets and colons of this line and the one before.',
  ),
  BAD_COLLECTION_TYPE: ['yaml-tag', 'A tag (!) does not fit what follows it.', 'Remove the tag.'],
};

/** What more the parser knows: which sign is missing. */
function detail(error: YAMLError): string | null {
  const missing = /^Missing closing (.)quote/.exec(error.message)?.[1];
  if (missing !== undefined) return `A closing quote (${missing}) is missing.`;
  if (/^Missing closing "?quote/i.test(error.message)) return 'A closing quote is missing.';
  if (/expected flow collection to end with (.)/i.test(error.message))
    return `A closing ${/end with (.)/.exec(error.message)?.[1]} is missing.`;
  if (/^Missing , /.test(error.message)) return 'A comma is missing between the entries in brackets.';
  if (/^(Implicit map keys need to be followed by map values)/.test(error.message))
    return 'A key has no colon and no value, or its value is indented too little.';
  if (/^Nested mappings are not allowed in compact mappings/.test(error.message))
    return 'A second colon stands in one line; text with a colon needs quotes.';
  if (/^All mapping items must start at the same column/.test(error.message))
    return 'This key does not stand below the keys of its group.';
  if (/^Unresolved alias/.test(error.message)) return 'An alias (*) names an anchor that is not there.';
  return null;
}

/** What the parser found: `syntax` leaves nothing to go on with, `others` do. */
export function yamlProblems(
  document: Document,
  text: string,
): { readonly syntax: Draft[]; readonly others: Draft[] } {
  const syntaxDrafts: Draft[] = [];
  const others: Draft[] = [];
  const conflicts = document.errors.length === 0 ? [] : conflictDrafts(text);
  if (conflicts.length > 0) return { syntax: conflicts, others };
  const seen = new Set<number>();
  const last = Math.max(0, text.trimEnd().length - 1);
  for (const error of [...document.errors, ...document.warnings]) {
    const [code, usual, remedy] = meanings[error.code];
    // At the very end there is no line to show: what is wrong began on the last one.
    const offset = Math.min(error.pos[0], last);
    // One problem a place: what follows is mostly a consequence.
    if (seen.has(offset)) continue;
    seen.add(offset);
    const draft: Draft = { code, text: detail(error) ?? usual, remedy, where: { kind: 'offset', offset } };
    if (error.name === 'YAMLWarning' && code !== 'yaml-directive') others.push(draft);
    else syntaxDrafts.push(draft);
  }
  if (syntaxDrafts.length === 0 && hasDirective(document)) {
    const [code, usual, remedy] = meanings.BAD_DIRECTIVE;
    const offset = Math.max(0, text.search(/^\uFEFF?%/m));
    syntaxDrafts.push({ code, text: usual, remedy, where: { kind: 'offset', offset } });
  }
  return { syntax: syntaxDrafts, others };
}

/** Where git left both sides of a merge in the text; everything else that is wrong follows from that. */
function conflictDrafts(text: string): Draft[] {
  if (!/^>{7}( |\r?$)/m.test(text)) return [];
  return [...text.matchAll(/^<{7}(?= |\r?$)/gm)].map(({ index }) => ({
    code: 'merge-conflict',
    text: 'Two sides of a merge stand here, from <<<<<<< to >>>>>>>.',
    remedy: 'Keep one of them or join them, and remove the three marks.',
    where: { kind: 'offset', offset: index },
  }));
}

/** Directives change what the same text means (version 1.1 reads `no` as false), so none are taken. */
function hasDirective(document: Document): boolean {
  const { directives } = document;
  return (
    directives !== undefined &&
    (directives.yaml.explicit === true || Object.keys(directives.tags).some(tag => tag !== '!!'))
  );
}
