export type Hand = 'left' | 'right';

/** A word of a path that may tell a size: shapes decide whether it does. */
export interface SizeWord {
  /** As it is written, in lower case: `58`, `small`, `110%`. */
  readonly label: string;
  /** Orders sizes: numbers by value, words from small to large. Comparable only within one scale. */
  readonly rank: number;
  readonly scale: 'number' | 'word';
  /** A small plain number, which as often counts pieces. */
  readonly ordinal: boolean;
  /** The path with this word replaced: equal for files that differ in it alone. */
  readonly pattern: string;
  readonly inFolder: boolean;
}

/** What the words of a path suggest. Nothing of it is believed without a look at the shape. */
export interface NameWords {
  readonly hand: Hand | null;
  /** The hand is named by a word that means nothing else, as a single letter may. */
  readonly handSpelled: boolean;
  /** The word for the hand stands in the name of a folder. */
  readonly handInFolder: boolean;
  readonly sizes: readonly SizeWord[];
  /** The path with the word for the hand replaced: equal for a left and a right file. null when there is none. */
  readonly handPattern: string | null;
  /** The path without words such as `v2`, `final`, `old`; null when there are none. */
  readonly versionPattern: string | null;
}

type Size = Pick<SizeWord, 'label' | 'rank' | 'scale' | 'ordinal'>;

interface Word {
  readonly text: string;
  readonly lower: string;
  readonly from: number;
  readonly to: number;
}

/** Whole words; besides English: German, Dutch, French, Spanish, Italian, Portuguese, in the forms that names have. */
const left = new Set(
  'left lh l links linke linker gauche izquierda izquierdo sinistra sinistro esquerda esquerdo'.split(' '),
);
const right = new Set(
  'right rh r rechts rechte rechter droite droit derecha derecho destra destro direita direito'.split(' '),
);
/** Words that may as well mean something else: a chain has links, and a letter is anything. */
const doubtful = (lower: string): boolean => lower.length === 1 || lower === 'links';
/** From small to large; the letters as clothing has them. Common practice, no source. */
const sizeWords: Readonly<Record<string, number>> = {
  xxs: -3,
  xs: -2,
  tiny: -2,
  s: -1,
  small: -1,
  m: 0,
  medium: 0,
  regular: 0,
  l: 1,
  large: 1,
  big: 1,
  xl: 2,
  xxl: 3,
};
const versionWord =
  /^(v|ver|version|rev|r)[0-9]+[a-z]?$|^(final|old|new|copy|backup|draft|wip|latest|orig|original)$/;
/** The kinds of files are no words of the name. */
const ending = /\.[^./]*$/;

/** The words of a path, without its ending. */
export function nameWords(path: string, smallestNumber: number): NameWords {
  const bare = path.replace(ending, '');
  const folderEnd = bare.lastIndexOf('/') + 1;
  const words = split(bare);
  const single = words.filter(word => word.lower.length === 1);
  // 'l' is left only where it cannot be large: as long as no other size of clothing is about, shapes decide.
  const handed = words.filter(word => left.has(word.lower) || right.has(word.lower));
  const handWord =
    handed.find(word => !doubtful(word.lower)) ??
    handed.find(word => word.lower.length > 1) ??
    (single.length === 1 ? handed[0] : undefined);
  const hand = handWord === undefined ? null : handOf(handWord);
  // Folder and file may both say it.
  const sameHand = handed.filter(
    word => word === handWord || (word.lower.length > 1 && handOf(word) === hand),
  );
  const sizes = sizesOf(words, smallestNumber).map(({ size, said }): SizeWord => ({
    ...size,
    pattern: without(bare, said, '#'),
    inFolder: said.some(word => word.from < folderEnd),
  }));
  const versions = words.filter(word => versionWord.test(word.lower) && word.from >= folderEnd);
  return {
    hand,
    handSpelled: handWord !== undefined && !doubtful(handWord.lower),
    handInFolder: sameHand.some(word => word.from < folderEnd),
    sizes,
    handPattern: handWord === undefined ? null : without(bare, sameHand, '#'),
    versionPattern: versions.length === 0 ? null : plain(without(bare, versions, '')),
  };
}

function handOf({ lower }: Word): Hand {
  return left.has(lower) ? 'left' : 'right';
}

/** Each size with the words that say it: folder and file may both do, as in `small/cuff_small.stl`. */
function sizesOf(
  words: readonly Word[],
  smallestNumber: number,
): { readonly size: Size; readonly said: readonly Word[] }[] {
  const found: { size: Size; said: Word[] }[] = [];
  words.forEach((word, i) => {
    const size = sizeOf(words, i, smallestNumber);
    if (size === null) return;
    const known = found.find(one => one.size.scale === size.scale && one.size.rank === size.rank);
    // Two small numbers that happen to be the same count different things.
    if (known === undefined || size.ordinal || known.size.ordinal) found.push({ size, said: [word] });
    else known.said.push(word);
  });
  return found;
}

/** The path without its ending, as `versionPattern` gives it for one with such words. */
export function plainName(path: string): string {
  return plain(path.replace(ending, ''));
}

function plain(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^a-z0-9/]+/g, ' ')
    .split('/')
    .map(part => part.trim())
    .join('/');
}

/** Letters with the digits that follow them (`v2`, `m3`), numbers with a decimal part and unit, at changes of case. */
function split(text: string): Word[] {
  const found = text.matchAll(
    /[0-9]+(?:\.[0-9]+)?(?:mm|cm|pct|percent|%|x)?(?![a-z])|[A-Z]?[a-z]+[0-9]*|[A-Z]+(?![a-z])[0-9]*|[0-9]+/g,
  );
  return [...found].map(match => ({
    text: match[0],
    lower: match[0].toLowerCase(),
    from: match.index,
    to: match.index + match[0].length,
  }));
}

function sizeOf(words: readonly Word[], i: number, smallestNumber: number): Size | null {
  const { lower } = words[i];
  if (Object.hasOwn(sizeWords, lower))
    return { label: lower, rank: sizeWords[lower], scale: 'word', ordinal: false };
  const number = /^([0-9]+(?:\.[0-9]+)?)(mm|cm|pct|percent|%|x)?$/.exec(lower);
  if (number === null) return null;
  const before = i > 0 ? words[i - 1].lower : '';
  const named = number[2] !== undefined || /^(size|sz|scale|palm|width|breadth)$/.test(before);
  const factor = number[2] === 'cm' ? 10 : number[2] === 'x' ? 100 : 1;
  const value = Number((Number(number[1]) * factor).toPrecision(12));
  const whole = /^[0-9]+$/.test(number[1]);
  return {
    label: lower,
    rank: value,
    scale: 'number',
    ordinal: !named && whole && (value < smallestNumber || number[1].startsWith('0')),
  };
}

function without(text: string, words: readonly Word[], mark: string): string {
  let out = '';
  let at = 0;
  for (const word of words) {
    out += text.slice(at, word.from) + mark;
    at = word.to;
  }
  return (out + text.slice(at)).toLowerCase();
}
