import type { DatedLetter, ShapeFact } from '@kinprint/license';
import { kinDefaults } from '../kin/kin-defaults.ts';
import { entryDistance } from '../kin/kin-index.ts';
import { contentKey } from '../kin/print-parts.ts';
import { shapeFamilies, type Related, type ShapeFamilies } from '../kin/shape-families.ts';
import { openVerifier, type PairVerifier } from '../kin/verify-pairs.ts';
import type { Cache } from '../cache/cache.ts';
import type { ComparedParts, UnreadPart } from './derived-shapes.ts';
import type { RegisteredLetters } from './registered-letters.ts';
import type { RegisteredPart, RegisteredShapes } from './registered-shapes.ts';
import { comparedShapes, seekRelatives, type Seeker, type Sought } from './seek-relatives.ts';

export interface UndeclaredRelatives {
  /** Of each part the strongest relative first. */
  readonly facts: readonly ShapeFact[];
  readonly unread: readonly UnreadPart[];
  /** Near shapes that were not compared with a part, as the bound was reached. */
  readonly left: readonly { readonly work: string; readonly part: string; readonly shapes: number }[];
}

/** A part of a work audited. */
interface Audited extends Seeker {
  readonly work: string;
  readonly part: RegisteredPart;
  /** Parts of this id in letters of its own line, the oldest first. */
  readonly own: readonly Dated[];
  readonly undeclared: (other: RegisteredPart) => boolean;
}

/**
 * Parts of the works audited that have the shape of a part of another variant, while the lineage connects the two in no
 * way; with the oldest letters on either side that have it. All that the registry and its sources hold and held is
 * looked through by fingerprint; what is near is compared, up to a bound.
 *
 * @param heads for each variant the work that it is now
 * @param compared what comparisons along derivations have told already
 */
export async function undeclaredRelatives(
  shapes: RegisteredShapes,
  letters: RegisteredLetters,
  targets: readonly string[],
  compared: readonly ComparedParts[],
  cache: Cache,
  progress?: (done: number, total: number) => void,
): Promise<UndeclaredRelatives> {
  const families = shapeFamilies(shapes.index.rows.length);
  const wholes = new Map(
    shapes.groups.flatMap((group, k) => {
      const [key, row] = [contentKey(group[0]), shapes.rows[k].at(0)];
      return key === null || row === undefined ? [] : [[key, row] as const];
    }),
  );
  for (const { older, newer, kinship } of compared) {
    const [query, candidate] = [older, newer].map(part => wholes.get(contentKey(part) ?? ''));
    if (query !== undefined && candidate !== undefined) families.add(query, candidate, kinship);
  }
  const named = partsByName(shapes);
  const { audited, unread } = auditedParts(shapes, letters, families, named, new Set(targets));
  const verifier = openVerifier(cache, true);
  try {
    const sought = await seekRelatives(shapes, audited, families, verifier, progress);
    const facts: ShapeFact[] = [];
    for (const each of audited)
      facts.push(...(await factsOf(each, { shapes, letters, families, sought, verifier })));
    const left = audited.flatMap(({ work, part }, k) =>
      sought.left[k] === 0 ? [] : [{ work, part: part.place.part, shapes: sought.left[k] }],
    );
    return { facts, unread, left };
  } finally {
    await verifier.close();
  }
}

function auditedParts(
  shapes: RegisteredShapes,
  letters: RegisteredLetters,
  families: ShapeFamilies,
  named: NamedParts,
  targets: ReadonlySet<string>,
): { readonly audited: Audited[]; readonly unread: UnreadPart[] } {
  const audited: Audited[] = [];
  const unread: UnreadPart[] = [];
  for (const part of shapes.present) {
    const { address } = part.place;
    const work = letters.workOf(part.place);
    const content = shapes.groupOf(part);
    if (work === undefined || !targets.has(work)) continue;
    if (content === undefined || shapes.prints[content] === null) {
      unread.push({ part: `${work}/${part.place.part}`, problem: 'Its mesh cannot be read.' });
      continue;
    }
    const said = letters.declared(address);
    const undeclared = ({ place }: RegisteredPart): boolean => said(place.address) === 'not-declared';
    const own = dated(ownLine(part, named, letters), letters);
    // From then on the shape is ours, as far as is known.
    const since = own.find(each => cameTo(shapes, families, each.part, part, own))?.letter.date ?? 'none';
    audited.push({
      work,
      part,
      content,
      own,
      undeclared,
      wanted: other => shapes.groups[other].some(undeclared),
      date: other =>
        shapes.groups[other]
          .filter(undeclared)
          .map(({ place }) => letters.firstDate(place.address) ?? 'none')
          .sort()[0],
      older: other =>
        shapes.groups[other].some(
          each => undeclared(each) && (letters.firstDate(each.place.address) ?? 'none') <= since,
        ),
    });
  }
  return { audited, unread };
}

/** Parts by their id, of whatever variant and letter. */
type NamedParts = ReadonlyMap<string, readonly RegisteredPart[]>;

function partsByName({ all }: RegisteredShapes): NamedParts {
  const named = new Map<string, RegisteredPart[]>();
  for (const part of all) {
    const known = named.get(part.place.part);
    if (known === undefined) named.set(part.place.part, [part]);
    else known.push(part);
  }
  return named;
}

/** Parts of the same id in the variant and in what it came from: what came along is as old as it is there. */
function ownLine({ place }: RegisteredPart, named: NamedParts, letters: RegisteredLetters): RegisteredPart[] {
  const said = letters.declared(place.address);
  return (named.get(place.part) ?? []).filter(other =>
    ['same-variant', 'ancestor'].includes(said(other.place.address)),
  );
}

/** Whether a part became another one of its line in steps that are known to be no new shapes. */
function cameTo(
  shapes: RegisteredShapes,
  families: ShapeFamilies,
  from: RegisteredPart,
  to: RegisteredPart,
  line: readonly Dated[],
): boolean {
  const rowOf = (part: RegisteredPart): number | undefined => shapes.rows[shapes.groupOf(part) ?? -1]?.[0];
  const [start, end] = [rowOf(from), rowOf(to)];
  if (start === undefined || end === undefined) return false;
  const rows = new Set(line.map(({ part }) => rowOf(part)).filter(row => row !== undefined));
  const reached = new Set([end]);
  for (const row of reached) {
    if (row === start) return true;
    for (const other of rows) {
      const told = families.between(row, other);
      if (told !== undefined && told !== null) reached.add(other);
    }
  }
  return false;
}

interface Knowledge {
  readonly shapes: RegisteredShapes;
  readonly letters: RegisteredLetters;
  readonly families: ShapeFamilies;
  readonly sought: Sought;
  readonly verifier: PairVerifier;
}

/** A part of another variant that is related, and how. */
interface Relative {
  readonly part: RegisteredPart;
  readonly row: number;
  readonly related: Related;
}

const identical: Related = { relation: 'same-shape', mirrored: false, scale: 1, shared: 1 };

/** For each other variant one fact, by what is related most; of equals the oldest first. */
async function factsOf(audited: Audited, knowledge: Knowledge): Promise<ShapeFact[]> {
  const { shapes, letters, families } = knowledge;
  const { work, part, content, own } = audited;
  const related = new Map<number, { readonly row: number; readonly related: Related }>();
  const rows = shapes.rows[content];
  if (rows.length > 0) related.set(content, { row: rows[0], related: identical });
  for (const row of rows)
    for (const [other, how] of families.relatives(row)) {
      const group = shapes.index.rows[other].content;
      const before = related.get(group);
      if (before === undefined || strength(how) > strength(before.related))
        related.set(group, { row: other, related: how });
    }
  const variants = new Map<string, Relative[]>();
  for (const [group, how] of related)
    for (const other of shapes.groups[group].filter(audited.undeclared)) {
      const known = variants.get(other.place.address);
      if (known === undefined) variants.set(other.place.address, [{ part: other, ...how }]);
      else known.push({ part: other, ...how });
    }
  const ranked = [...variants.values()]
    .map(all => {
      const strongest = all.reduce((a, b) => (strength(b.related) > strength(a.related) ? b : a));
      const same = all.filter(({ row }) => row === strongest.row).map(each => each.part);
      const theirs = oldest(
        all.map(each => each.part),
        letters,
      );
      return { ...strongest, part: oldest(same, letters)?.part ?? same[0], theirs: theirs?.letter ?? null };
    })
    .sort(strongThenOld)
    .slice(0, kinDefaults.candidates);
  const facts: ShapeFact[] = [];
  for (const { part: other, row, related: how, theirs } of ranked) {
    let ours: DatedLetter | null = null;
    for (const each of own)
      if (await sameOrKin(each.part, part, row, knowledge)) {
        ours = each.letter;
        break;
      }
    facts.push({
      work,
      part: part.place.part,
      other: { work: letters.workOf(other.place) ?? other.place.address, part: other.place.part },
      kinship: how.relation,
      // Kin tells the size of the other with ours as 1.
      scale: how.scale === 1 ? null : 1 / how.scale,
      oldest: { ours, theirs },
    });
  }
  return facts;
}

interface Dated {
  readonly part: RegisteredPart;
  readonly letter: DatedLetter;
}

/** Those that have letters, the oldest first. */
function dated(parts: readonly RegisteredPart[], letters: RegisteredLetters): Dated[] {
  return parts
    .flatMap(part => {
      const work = letters.workOf(part.place);
      const date = work === undefined ? undefined : letters.dateOf(work);
      return work === undefined || date === undefined ? [] : [{ part, letter: { work, date } }];
    })
    .sort((a, b) => (a.letter.date < b.letter.date ? -1 : a.letter.date > b.letter.date ? 1 : 0));
}

function oldest(parts: readonly RegisteredPart[], letters: RegisteredLetters): Dated | undefined {
  return dated(parts, letters).at(0);
}

/** Whether an earlier letter of ours had the shape already: it is the same mesh, or is related to theirs as well. */
async function sameOrKin(
  own: RegisteredPart,
  now: RegisteredPart,
  theirs: number,
  { shapes, families, sought: { bound }, verifier }: Knowledge,
): Promise<boolean> {
  if (contentKey(own) === contentKey(now)) return true;
  const content = shapes.groupOf(own);
  const row = content === undefined ? undefined : shapes.rows[content].at(0);
  if (content === undefined || row === undefined) return false;
  const told = families.between(row, theirs);
  if (told !== undefined) return told !== null;
  const { contents, rows, index } = shapes.index;
  const distance = entryDistance(index, row, theirs);
  if (distance > kinDefaults.farthest) return false;
  // Beyond the bound an earlier letter of one's own part, and near, is taken for kin.
  if (!bound.take(contents[content], contents[rows[theirs].content], distance)) return true;
  families.add(row, theirs, await comparedShapes(shapes, row, theirs, verifier));
  return (families.between(row, theirs) ?? null) !== null;
}

/** The same shape goes before a reworked one; of the same ones that which needs no mirror, of others what shares more. */
function strength({ relation, mirrored, shared }: Related): number {
  return relation === 'reworked' ? shared : mirrored ? 2 : 3;
}

interface Ranked {
  readonly related: Related;
  readonly theirs: DatedLetter | null;
}

/** Reworked ones last; of those what has more in common first; of equals the oldest. */
function strongThenOld(a: Ranked, b: Ranked): number {
  const [weak, other] = [a, b].map(({ related }) => Number(related.relation === 'reworked'));
  const common = weak === 1 && other === 1 ? b.related.shared - a.related.shared : 0;
  const [x, y] = [a, b].map(({ theirs }) => theirs?.date ?? 'none');
  return weak - other || common || (x < y ? -1 : x > y ? 1 : 0);
}
