import {
  isAlias,
  isCollection,
  isMap,
  isNode,
  isScalar,
  isSeq,
  type Document,
  type Node,
  type Pair,
} from 'yaml';
import { defaults } from '../defaults.ts';
import type { DocumentPath } from '../problem.ts';
import { quoted, type Draft } from './draft.ts';
import { keyText } from './places.ts';

/**
 * What the parser lets pass and must not reach anything that walks the value: nesting without end, aliases that
 * repeat more than anyone can hold or that contain themselves, keys that stand twice, text that is no Unicode.
 *
 * `fatal`: the value cannot be made.
 */
export function boundProblems(document: Document): { readonly fatal: boolean; readonly problems: Draft[] } {
  const problems: Draft[] = [];
  /** What each anchor named last: an alias means that. */
  const anchored = new Map<string, Node>();
  /** Values within each anchored node, all aliases followed; null while it is being counted. */
  const sizes = new Map<Node, number | null>();
  let aliases = 0;
  let fatal = false;

  const stop = (code: Draft['code'], text: string, remedy: string, path: DocumentPath): number => {
    if (!fatal) problems.push({ code, text, remedy, where: { kind: 'value', path } });
    fatal = true;
    return 0;
  };
  const noteAnchor = (node: Node, path: DocumentPath): void => {
    const anchor = isAlias(node) ? undefined : node.anchor;
    if (anchor) anchored.set(anchor, node);
    if ((anchor || isAlias(node)) && ++aliases > defaults.aliases)
      stop(
        'yaml-alias',
        `The document has more than ${defaults.aliases} anchors (&) and aliases (*).`,
        'Write the values out.',
        path,
      );
  };
  const size = (node: unknown, path: DocumentPath, depth: number): number => {
    if (fatal) return 0;
    if (depth > defaults.depth)
      return stop(
        'document-too-deep',
        'Groups and lists are nested too deeply.',
        'Use the keys of the schema.',
        path,
      );
    if (isNode(node)) noteAnchor(node, path);
    if (fatal) return 0;
    if (isAlias(node)) {
      const target = anchored.get(node.source);
      const known = target === undefined ? undefined : sizes.get(target);
      if (known === undefined || known === null)
        return stop(
          'yaml-alias',
          `The alias *${node.source} stands within what it repeats, or names nothing.`,
          'Write the value out.',
          path,
        );
      return known;
    }
    if (isScalar(node)) {
      if (typeof node.value === 'string') checkText(node.value, path);
      if (node.anchor) sizes.set(node, 1);
      return 1;
    }
    if (!isCollection(node)) return 1;
    if (node.anchor) sizes.set(node, null);
    let sum = 1;
    if (isMap(node)) sum += keysSize(node.items, path, depth);
    else if (isSeq(node))
      for (let i = 0; i < node.items.length && !fatal; i++)
        sum += size(node.items[i], [...path, i], depth + 1);
    if (sum > defaults.values)
      return stop(
        'document-too-large',
        `The document has more than ${defaults.values} values, aliases counted as often as they are used.`,
        'Split it, or remove aliases.',
        path,
      );
    if (node.anchor) sizes.set(node, sum);
    return sum;
  };
  const keysSize = (items: readonly Pair[], path: DocumentPath, depth: number): number => {
    const seen = new Set<string>();
    let sum = 0;
    for (const item of items) {
      if (fatal) return sum;
      if (isNode(item.key)) noteAnchor(item.key, path);
      const key = keyText(item);
      if (key === null) {
        problems.push({
          code: 'yaml-key',
          text: 'A key must be plain text.',
          remedy: 'Write the key as a word.',
          where: { kind: 'value', path },
        });
        continue;
      }
      if (seen.has(key)) {
        const offset = (item.key as Node).range?.[0] ?? 0;
        problems.push({
          code: 'duplicate-key',
          text: `The key ${quoted(key)} stands here a second time.`,
          remedy: 'Keep one of them.',
          where: { kind: 'offset', offset },
        });
      }
      seen.add(key);
      checkText(key, path);
      sum += 1 + size(item.value, [...path, key], depth + 1);
    }
    return sum;
  };
  const checkText = (text: string, path: DocumentPath): void => {
    if (/\p{Surrogate}/u.test(text))
      problems.push({
        code: 'control-character',
        text: 'An escape stands for half a character (a lone surrogate).',
        remedy: 'Write the character itself.',
        where: { kind: 'value', path },
      });
  };

  size(document.contents, [], 0);
  return { fatal, problems };
}
