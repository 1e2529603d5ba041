import { byText, type ShapeSummary } from '@kinprint/compare';
import { adoptDefaults } from '../adopt-defaults.ts';
import { pairBetween, type KinCandidate, type KinPair } from './kin-pairs.ts';
import type { SizeWord } from './name-words.ts';

/** Which sizes there are, and which parts belong to which. */
export interface Sizes {
  /** Small to large; empty when there is one size only. */
  readonly labels: readonly string[];
  /** A part's size; parts that are not in it belong to every size. */
  readonly of: ReadonlyMap<number, string>;
  /** What told the sizes apart: names borne out by shapes, or shapes alone. */
  readonly by: 'names' | 'shapes' | null;
  /** What looks like sizes, but is not taken for them. */
  readonly doubts: readonly SizeDoubt[];
}

export interface SizeDoubt {
  readonly parts: readonly number[];
  readonly text: string;
}

interface Member {
  readonly part: KinCandidate;
  readonly word: SizeWord;
}

/**
 * Finds sizes. Files whose paths differ in a number or a word for a size are sizes when each shape is kin of the next
 * smaller one (scaled, or reworked with a share of the surface kept) and larger than it. Scaled copies without such
 * names are sizes when at least half of the parts have them: two pins of one proportion make no sizes of a device.
 *
 * @param parts those that are there now
 */
export function findSizes(parts: readonly KinCandidate[], pairs: readonly KinPair[]): Sizes {
  const named = sizesByName(parts, pairs);
  if (named.labels.length > 1) return named;
  const shaped = sizesByShape(parts, pairs);
  return { ...shaped, doubts: [...named.doubts, ...shaped.doubts] };
}

/**
 * The size that a path names, of those that were found: for parts of earlier states.
 */
export function sizeNamed(words: readonly SizeWord[], labels: readonly string[]): string | null {
  const own = words.filter(word => labels.some(label => label.split('-').includes(slug(word.label))));
  const joined = own.map(word => slug(word.label)).join('-');
  return labels.includes(joined) ? joined : null;
}

function sizesByName(parts: readonly KinCandidate[], pairs: readonly KinPair[]): Sizes {
  const families = new Map<string, Member[]>();
  for (const part of parts)
    for (const word of part.words.sizes) {
      const key = `${word.scale} ${word.pattern}`;
      families.set(key, [...(families.get(key) ?? []), { part, word }]);
    }
  const confirmed = new Map<string, number>();
  const doubts: SizeDoubt[] = [];
  for (const members of families.values()) {
    members.sort((a, b) => a.word.rank - b.word.rank || byText(a.part.entry.path, b.part.entry.path));
    if (new Set(members.map(member => member.word.rank)).size < 2) continue;
    const answer = confirm(members, pairs);
    if (answer === 'sizes') for (const { word } of members) confirmed.set(slug(word.label), word.rank);
    else if (answer !== 'same')
      doubts.push({
        parts: members.map(member => member.part.key),
        text: `${list(members.map(member => member.word.label))} in the names may be sizes, but ${answer}.`,
      });
  }
  const of = new Map<number, string>();
  const ranks = new Map<string, number>();
  for (const part of parts) {
    const words = part.words.sizes.filter(word => confirmed.has(slug(word.label)));
    if (words.length === 0) continue;
    const label = words.map(word => slug(word.label)).join('-');
    of.set(part.key, label);
    ranks.set(label, words[0].rank);
  }
  const labels = [...ranks].sort(([a, p], [b, q]) => p - q || byText(a, b)).map(([label]) => label);
  return { labels, of, by: labels.length > 1 ? 'names' : null, doubts };
}

/** `sizes`; `same` for one shape throughout; else why not. */
function confirm(members: readonly Member[], pairs: readonly KinPair[]): string {
  let same = true;
  for (let i = 1; i < members.length; i++) {
    const [small, large] = [members[i - 1], members[i]];
    if (small.word.rank === large.word.rank) return 'several files have one of them';
    const pair = pairBetween(pairs, small.part.key, large.part.key);
    if (pair === null) return 'their shapes are not kin';
    if (['identical', 'same-shape', 'moved', 'mirrored'].includes(pair.verdict)) continue;
    same = false;
    if (pair.verdict === 'replaced' || pair.matched < adoptDefaults.kinMatched)
      return 'their shapes are not kin';
    // Stretched along one axis, as a longer pad beside a shorter one.
    const scaled = pair.verdict === 'rescaled' && pair.factor !== null;
    if (!scaled && (small.word.ordinal || large.word.ordinal))
      return 'such small numbers as often count pieces';
    if (!(extent(large.part.shape) > extent(small.part.shape))) return 'the shapes do not grow with them';
  }
  return same ? 'same' : 'sizes';
}

function sizesByShape(parts: readonly KinCandidate[], pairs: readonly KinPair[]): Sizes {
  const none: Sizes = { labels: [], of: new Map(), by: null, doubts: [] };
  const scaled = pairs.filter(
    pair =>
      pair.factor !== null &&
      Math.abs(pair.factor - 1) > 1e-3 &&
      (pair.verdict === 'rescaled' || pair.verdict === 'mirrored'),
  );
  const factors = new Map<number, number>();
  const order = [...parts].sort(
    (a, b) =>
      a.from - b.from || a.entry.path.length - b.entry.path.length || byText(a.entry.path, b.entry.path),
  );
  for (const base of order) {
    if (factors.has(base.key) || !scaled.some(pair => pair.a === base.key || pair.b === base.key)) continue;
    const waiting: [number, number][] = [[base.key, 1]];
    for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
      const [key, factor] = next;
      if (factors.has(key)) continue;
      factors.set(key, factor);
      for (const { a, b, factor: f } of scaled) {
        if (a === key && f !== null) waiting.push([b, factor * f]);
        if (b === key && f !== null) waiting.push([a, factor / f]);
      }
    }
  }
  if (factors.size === 0) return none;
  if (2 * factors.size < parts.length)
    return {
      ...none,
      doubts: [
        {
          parts: [...factors.keys()].sort((a, b) => a - b),
          text: 'Scaled copies of one another, but most other parts have none: parts of one device, or sizes?',
        },
      ],
    };
  const labelOf = (factor: number): string => `scale-${slug(String(Number((100 * factor).toFixed(1))))}`;
  const ranks = new Map([...factors.values()].map(factor => [labelOf(factor), factor]));
  const labels = [...ranks].sort(([, p], [, q]) => p - q).map(([label]) => label);
  return {
    labels,
    of: new Map([...factors].map(([key, factor]) => [key, labelOf(factor)])),
    by: 'shapes',
    doubts: [],
  };
}

/** Grows with the shape, whatever the hand. */
function extent(shape: ShapeSummary): number {
  return Math.sqrt(shape.area_mm2);
}

/** As an id may hold it. */
function slug(label: string): string {
  return label
    .replace('%', 'pct')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '');
}

function list(labels: readonly string[]): string {
  return [...new Set(labels)].map(label => `'${label}'`).join(', ');
}
