import type { Descent, PartDescent, Shape } from '@kinprint/license';
import { InputError } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import type { RevisionContent } from '../history/history.ts';
import { comparisonBound } from '../kin/comparison-bound.ts';
import type { Candidate } from '../kin/find-kin.ts';
import { kinDefaults } from '../kin/kin-defaults.ts';
import { entryDistance, kinIndex } from '../kin/kin-index.ts';
import { printOf } from '../kin/mesh-prints.ts';
import { contentKey, printMeshes } from '../kin/print-parts.ts';
import { kinshipStrength } from '../kin/related-contents.ts';
import { partsOf, type KinPlace } from '../kin/registered-parts.ts';
import type { Kinship } from '../kin/verify-kin.ts';
import { openVerifier, type PairVerifier } from '../kin/verify-pairs.ts';

/** A part whose mesh could not be read, so that nothing was said of its shape. */
export interface UnreadPart {
  /** `device/variant@B/part`. */
  readonly part: string;
  readonly problem: string;
}

type Part = Candidate<KinPlace>;

/** Two parts that were compared. */
export interface ComparedParts {
  readonly older: Part;
  readonly newer: Part;
  /** null where they are not related. */
  readonly kinship: Kinship | null;
}

export interface ShapedDescents {
  readonly descents: readonly Descent[];
  readonly unread: readonly UnreadPart[];
  readonly compared: readonly ComparedParts[];
  /** Parts that were not compared with what they came from, as the bound was reached. */
  readonly left: readonly { readonly work: string; readonly part: string }[];
}

/** A newer part and what it may have come from. */
interface Match {
  readonly descent: Descent;
  readonly newer: Part;
  readonly older: Part;
  /** Whether both have the same id; others are only candidates. */
  readonly named: boolean;
}

/** With the distance of the fingerprints; null where one of the meshes has none. */
interface NearMatch extends Match {
  readonly distance: number | null;
}

/** Kinships that were looked at; null where the parts are not related. */
type Kinships = ReadonlyMap<Match, Kinship | null>;

/**
 * What became of the parts along every derivation, by their meshes: which part came from which, and whether it is the
 * same, mirrored, rescaled, rescaled with interfaces brought back to size, or changed otherwise.
 *
 * A part came from the one with the very same mesh, or else from that of its own id, or else, renamed, from the one
 * whose shape it is related to. Where a work came from several, a part that one of them explains without a change is not
 * taken for a changed one of another. Fingerprints too far apart tell a change; the others are compared, those first
 * that are declared to be plain, then the nearest, up to a bound.
 *
 * @param cache null to compare nothing: only parts of equal bytes are then known to be unchanged
 */
export async function shapedDescents(
  descents: readonly Descent[],
  contents: ReadonlyMap<string, RevisionContent>,
  cache: Cache | null,
  progress: (done: number, total: number) => void = () => undefined,
): Promise<ShapedDescents> {
  const { twins, matches } = matchesOf(descents, await partsOfEach(descents, contents));
  const holding = ({ descent, newer }: Match): number =>
    heldSize(contents.get(descent.from), newer.place.part);
  if (cache === null) {
    const shaped = assembled(descents, twins, matches, match => (match.named ? null : undefined));
    return { descents: explained(shaped), unread: [], compared: [], left: [] };
  }
  const near = await withDistances(matches, cache);
  const told = near.filter(match => match.named && !worthComparing(match, holding(match) > 0));
  const wanted = [
    ...near.filter(match => match.named && worthComparing(match, holding(match) > 0)),
    ...renamed(near),
  ];
  const { kinships, left, unread } = await comparedMatches(wanted.sort(plainThenNear), cache, progress);
  const changed = new Set<Match>(told);
  const shaped = assembled(descents, twins, bestRenamed(near, kinships), match => {
    if (changed.has(match)) return 'changed';
    const kinship = kinships.get(match);
    if (kinship === undefined) return match.named ? null : undefined;
    return kinship === null && !match.named ? undefined : shapeBy(kinship, holding(match));
  });
  return {
    descents: explained(shaped),
    unread,
    compared: [...kinships].map(([{ older, newer }, kinship]) => ({ older, newer, kinship })),
    left: left.map(({ descent, newer }) => ({ work: descent.from, part: newer.place.part })),
  };
}

/** The parts of every work that a descent connects, where they are at hand. */
async function partsOfEach(
  descents: readonly Descent[],
  contents: ReadonlyMap<string, RevisionContent>,
): Promise<ReadonlyMap<string, readonly Part[]>> {
  const parts = new Map<string, readonly Part[]>();
  for (const id of new Set(descents.flatMap(({ from, to }) => [from, to]))) {
    const content = contents.get(id);
    if (content === undefined) continue;
    const { files, folder, refs, document } = content;
    parts.set(
      id,
      document.value === null ? [] : await partsOf(files, folder, refs, document.value, id, null),
    );
  }
  return parts;
}

/** Parts with the very same mesh, and what the others may have come from. */
function matchesOf(
  descents: readonly Descent[],
  parts: ReadonlyMap<string, readonly Part[]>,
): { readonly twins: ReadonlyMap<Descent, readonly PartDescent[]>; readonly matches: readonly Match[] } {
  const twins = new Map<Descent, PartDescent[]>();
  const matches: Match[] = [];
  for (const descent of descents) {
    const [newer, older] = [parts.get(descent.from), parts.get(descent.to)];
    if (newer === undefined || older === undefined) continue;
    const equal: PartDescent[] = [];
    twins.set(descent, equal);
    const ids = new Set(newer.map(({ place }) => place.part));
    for (const part of newer) {
      const key = contentKey(part);
      const same = older.filter(other => contentKey(other) === key && key !== null);
      const named = older.find(({ place }) => place.part === part.place.part);
      const twin = same.find(other => other === named) ?? same.at(0);
      if (twin !== undefined)
        equal.push({ part: part.place.part, from: twin.place.part, shape: 'unchanged' });
      else if (named !== undefined) matches.push({ descent, newer: part, older: named, named: true });
      else
        for (const other of older)
          // What still has its name was not renamed.
          if (!ids.has(other.place.part)) matches.push({ descent, newer: part, older: other, named: false });
    }
  }
  return { twins, matches };
}

async function withDistances(matches: readonly Match[], cache: Cache): Promise<NearMatch[]> {
  const prints = await printMeshes(
    matches.flatMap(({ newer, older }) => [newer, older]),
    cache,
  );
  return matches.map((match, k) => {
    const [a, b] = [prints[2 * k]?.whole ?? null, prints[2 * k + 1]?.whole ?? null];
    return {
      ...match,
      distance: a === null || b === null ? null : entryDistance(kinIndex([printOf(a), printOf(b)]), 0, 1),
    };
  });
}

/**
 * Whether a comparison can tell more than the fingerprints do: those of one shape are never so far apart. A rescaling
 * with interfaces brought back to size is looked at in any case.
 */
function worthComparing({ descent, distance }: NearMatch, held: boolean): boolean {
  return (
    distance === null || distance <= kinDefaults.sameShapeWithin || (descent.relation === 'rescale' && held)
  );
}

/** Of the parts that may have been renamed the nearest few of each. */
function renamed(matches: readonly NearMatch[]): NearMatch[] {
  const of = new Map<string, (NearMatch & { readonly distance: number })[]>();
  for (const match of matches) {
    const { descent, newer, named, distance } = match;
    if (named || distance === null || distance > kinDefaults.farthest) continue;
    const key = `${descent.from} ${descent.to} ${descent.relation} ${newer.place.part}`;
    of.set(key, [...(of.get(key) ?? []), match as NearMatch & { readonly distance: number }]);
  }
  return [...of.values()].flatMap(all =>
    all.sort((a, b) => a.distance - b.distance).slice(0, kinDefaults.renamedCandidates),
  );
}

/** Of several that a renamed part is related to, the one that has most in common with it. */
function bestRenamed(matches: readonly NearMatch[], kinships: Kinships): NearMatch[] {
  const best = new Map<string, { readonly match: NearMatch; readonly strength: number }>();
  for (const match of matches) {
    const kinship = kinships.get(match) ?? null;
    if (match.named || kinship === null) continue;
    const { descent, newer } = match;
    const key = `${descent.from} ${descent.to} ${descent.relation} ${newer.place.part}`;
    const strength = kinshipStrength(kinship);
    if (strength > (best.get(key)?.strength ?? -1)) best.set(key, { match, strength });
  }
  const kept = new Set([...best.values()].map(({ match }) => match));
  return matches.filter(match => match.named || kept.has(match));
}

/** What is declared to be plain goes first: there a comparison can tell that it is not. */
function plainThenNear(a: NearMatch, b: NearMatch): number {
  const declared = ({ descent: { relation } }: NearMatch): number =>
    Number(!['copy', 'mirror', 'rescale'].includes(relation));
  return declared(a) - declared(b) || (a.distance ?? 0) - (b.distance ?? 0);
}

interface ComparedMatches {
  readonly kinships: Kinships;
  /** Those beyond the bound. */
  readonly left: readonly Match[];
  readonly unread: readonly UnreadPart[];
}

async function comparedMatches(
  wanted: readonly NearMatch[],
  cache: Cache,
  progress: (done: number, total: number) => void,
): Promise<ComparedMatches> {
  const bound = comparisonBound();
  const pairs = new Map<string, NearMatch[]>();
  for (const match of wanted) {
    const key = `${contentKey(match.older) ?? ''} ${contentKey(match.newer) ?? ''}`;
    pairs.set(key, [...(pairs.get(key) ?? []), match]);
  }
  const within = [...pairs.values()].filter(([{ older, newer, distance }]) =>
    bound.take(older, newer, distance ?? Infinity),
  );
  const made = new Set(within);
  const kinships = new Map<Match, Kinship | null>();
  const unread = new Map<string, string>();
  const verifier = openVerifier(cache);
  let done = 0;
  try {
    const found = await Promise.all(
      within.map(async ([{ older, newer, descent }]) => {
        const outcome = await lookedAt(verifier, older, newer, descent);
        progress(++done, within.length);
        return outcome;
      }),
    );
    within.forEach((matches, k) => {
      const outcome = found[k];
      if ('problem' in outcome) unread.set(outcome.part, outcome.problem);
      else for (const match of matches) kinships.set(match, outcome.kinship);
    });
  } finally {
    await verifier.close();
  }
  return {
    kinships,
    left: [...pairs.values()].filter(pair => !made.has(pair)).flat(),
    unread: [...unread].map(([part, problem]) => ({ part, problem })),
  };
}

async function lookedAt(
  verifier: PairVerifier,
  older: Part,
  newer: Part,
  { from, to }: Descent,
): Promise<{ readonly kinship: Kinship | null } | UnreadPart> {
  try {
    const kinship = await verifier.verify({ query: older, candidate: newer, queryBody: null, body: null });
    return kinship === 'candidate-unreadable'
      ? { part: `${from}/${newer.place.part}`, problem: 'Its mesh cannot be read.' }
      : { kinship };
  } catch (error) {
    // The others are compared all the same; that this one was not is told.
    if (!(error instanceof InputError)) throw error;
    return { part: `${to}/${older.place.part}`, problem: error.message };
  }
}

/** @param shapeOf null where the shape could not be told, undefined where the two have nothing to do with each other */
function assembled(
  descents: readonly Descent[],
  twins: ReadonlyMap<Descent, readonly PartDescent[]>,
  matches: readonly Match[],
  shapeOf: (match: Match) => Shape | null | undefined,
): Descent[] {
  const found = new Map<Descent, PartDescent[]>();
  for (const [descent, equal] of twins) found.set(descent, [...equal]);
  for (const match of matches) {
    const shape = shapeOf(match);
    if (shape !== undefined)
      found.get(match.descent)?.push({ part: match.newer.place.part, from: match.older.place.part, shape });
  }
  return descents.map(descent => {
    const parts = found.get(descent);
    return parts === undefined ? descent : { ...descent, parts };
  });
}

/** @param held_mm the largest size that the newer part's manifest says is kept whatever the scale; 0 where none is */
export function shapeBy(kinship: Kinship | null, held_mm: number): Shape | null {
  if (kinship === null) return 'changed';
  // The same shape in other facets, as far as can be told: what was declared counts.
  if (kinship.other_facets) return null;
  switch (kinship.relation) {
    case 'same-shape':
    case 'moved':
      return 'unchanged';
    case 'mirrored':
      return 'mirrored';
    case 'rescaled':
      return 'rescaled';
    case 'reworked':
      return isRestored(kinship, held_mm) ? 'restored' : 'changed';
  }
}

/**
 * A bore brought back to size lies half of what it grew by from where it was scaled to. What lies farther off than that
 * explains was reworked besides.
 */
function isRestored({ scale, mirrored, deviation, within_mm }: Kinship, held_mm: number): boolean {
  if (held_mm === 0 || scale === 1 || mirrored) return false;
  const grown_mm = (held_mm * Math.abs(scale - 1)) / 2;
  return deviation.max_mm <= kinDefaults.restoredReach * grown_mm + within_mm;
}

function heldSize(content: RevisionContent | undefined, part: string): number {
  const found = content?.document.value?.parts.find(({ id }) => id === part);
  const held = (found?.interfaces ?? []).filter(({ scale }) => scale === 'hold');
  // Of what states no size anything may have been kept.
  return Math.max(0, ...held.map(({ nominal_mm }) => nominal_mm ?? Infinity));
}

const plain: readonly (Shape | null)[] = ['unchanged', 'mirrored', 'rescaled', 'restored'];

/** Leaves out matches of a changed part where another of the works that it came from explains the part better. */
function explained(descents: readonly Descent[]): Descent[] {
  const better = new Set(
    descents
      .filter(({ relation }) => relation !== 'revision')
      .flatMap(({ from, parts = [] }) =>
        parts.flatMap(({ part, shape }) => (plain.includes(shape) ? [`${from} ${part}`] : [])),
      ),
  );
  return descents.map(descent => {
    const { from, relation, parts } = descent;
    if (parts === undefined || relation === 'revision') return descent;
    return {
      ...descent,
      parts: parts.filter(({ part, shape }) => plain.includes(shape) || !better.has(`${from} ${part}`)),
    };
  });
}
