import { byText } from '@kinprint/compare';
import { InputError } from '@kinprint/mesh';
import { comparisonBound, type ComparisonBound } from '../kin/comparison-bound.ts';
import { kinDefaults } from '../kin/kin-defaults.ts';
import { entryDistance, nearestPrints, type KinIndex, type Neighbor } from '../kin/kin-index.ts';
import { printOf } from '../kin/mesh-prints.ts';
import type { ShapeFamilies } from '../kin/shape-families.ts';
import type { Kinship } from '../kin/verify-kin.ts';
import type { PairVerifier } from '../kin/verify-pairs.ts';
import type { RegisteredShapes } from './registered-shapes.ts';

/** A part whose relatives are sought. */
export interface Seeker {
  /** Its group among the registered shapes. */
  readonly content: number;
  /** Whether a group holds a part that it may be told to be a relative of. */
  readonly wanted: (content: number) => boolean;
  /** Whether a group holds such a part that may be as old as it, or older. */
  readonly older: (content: number) => boolean;
  /** The date of the oldest letter of a variant that holds such a part; 'none' sorts after every date. */
  readonly date: (content: number) => string;
}

export interface Sought {
  readonly bound: ComparisonBound;
  /** For each seeker how many near shapes were left out. */
  readonly left: readonly number[];
}

interface Pair {
  readonly query: number;
  readonly candidate: number;
  readonly distance: number;
  readonly date: string;
  /** Numbers of the seekers that want it told. */
  readonly seekers: Set<number>;
}

/**
 * Compares what is near by fingerprint, the nearest first, until all that matters is told or the bound is reached:
 * wholes and bodies, each with few others. What can be told from comparisons made before is not compared, nor what would
 * change nothing: a further rework of a part that is the same as an older one already, or one that is younger.
 *
 * @param families of the rows of the index: what is known already, and what is found
 */
export async function seekRelatives(
  shapes: RegisteredShapes,
  seekers: readonly Seeker[],
  families: ShapeFamilies,
  verifier: PairVerifier,
  progress: (done: number, total: number) => void = () => undefined,
): Promise<Sought> {
  const { rows } = shapes.index;
  const bound = comparisonBound();
  const left = seekers.map(() => 0);

  /** A part that is known to be the same as an older one needs no others. */
  const settled = ({ content, older }: Seeker): boolean =>
    shapes.rows[content]
      .slice(0, 1)
      .some(row =>
        families
          .relatives(row)
          .some(([other, { relation }]) => relation !== 'reworked' && older(rows[other].content)),
      );
  const sameWholes = ({ query, candidate }: Pair): boolean => {
    const [a, b] = [query, candidate].map(row => shapes.rows[rows[row].content][0]);
    const told = families.between(a, b);
    return told !== undefined && told !== null && told.relation !== 'reworked';
  };

  let waiting = nearPairs(shapes, seekers);
  const total = waiting.length;
  while (waiting.length > 0) {
    const settledNow = seekers.map(settled);
    waiting = waiting.filter(
      pair =>
        families.between(pair.query, pair.candidate) === undefined &&
        !sameWholes(pair) &&
        [...pair.seekers].some(seeker => !settledNow[seeker]),
    );
    const wave: Pair[] = [];
    const later: Pair[] = [];
    const joined = chains();
    const busy = new Set<number>();
    let full = false;
    // Whoever is found to be the same as an older one needs no more.
    const onlySame = waiting.length > 0 && maySame(waiting[0].distance);
    for (const pair of waiting) {
      // What this comparison tells may tell the other as well.
      if (onlySame && [...pair.seekers].every(seeker => busy.has(seeker))) {
        later.push(pair);
        continue;
      }
      const [a, b] = [families.family(pair.query), families.family(pair.candidate)];
      const fresh = maySame(pair.distance) ? joined.join(a, b) : joined.meet(a, b);
      if (full || wave.length >= kinDefaults.auditWave || !fresh || (onlySame && !maySame(pair.distance)))
        later.push(pair);
      else {
        const [query, candidate] = [pair.query, pair.candidate].map(
          row => shapes.index.contents[rows[row].content],
        );
        full = !bound.take(query, candidate, pair.distance);
        (full ? later : wave).push(pair);
        for (const seeker of pair.seekers) busy.add(seeker);
      }
    }
    let done = total - waiting.length;
    const found = await Promise.all(
      wave.map(async ({ query, candidate }) => {
        const kinship = await comparedShapes(shapes, query, candidate, verifier);
        progress(++done, total);
        return kinship;
      }),
    );
    // In their order, so that what is told does not depend on which was ready first.
    wave.forEach(({ query, candidate }, k) => {
      families.add(query, candidate, found[k]);
    });
    waiting = later;
    if (!full) continue;
    for (const { query, candidate, seekers: asking } of later)
      if (families.between(query, candidate) === undefined)
        for (const seeker of asking) if (!settled(seekers[seeker])) left[seeker] += 1;
    break;
  }
  return { bound, left };
}

/** How two shapes of the index are related; null also where a file is gone by now. */
export async function comparedShapes(
  { index: { rows, contents } }: RegisteredShapes,
  query: number,
  candidate: number,
  verifier: PairVerifier,
): Promise<Kinship | null> {
  const [a, b] = [rows[query], rows[candidate]];
  try {
    const kinship = await verifier.verify({
      query: contents[a.content],
      candidate: contents[b.content],
      queryBody: a.body,
      body: b.body,
    });
    return kinship === 'candidate-unreadable' ? null : kinship;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return null;
  }
}

/** The pairs that are worth comparing: nearest first, wholes before bodies, the older before the younger. */
function nearPairs(shapes: RegisteredShapes, seekers: readonly Seeker[]): Pair[] {
  const { rows, index } = shapes.index;
  const pairs = new Map<string, Pair>();
  seekers.forEach(({ content, wanted, older, date }, seeker) => {
    const prints = shapes.prints[content];
    if (prints === null) return;
    for (const row of shapes.rows[content]) {
      const { body } = rows[row];
      const print = body === null ? prints.whole : prints.bodies.find(each => each.body === body)?.print;
      if (print === null || print === undefined) continue;
      const accepts = (entry: number): boolean =>
        rows[entry].content !== content && wanted(rows[entry].content);
      const near = nearestPrints(
        index,
        printOf(print),
        2 * kinDefaults.candidates,
        kinDefaults.farthest,
        accepts,
      )
        // Of a younger one only the same shape counts.
        .filter(({ entry, distance }) => maySame(distance) || older(rows[entry].content))
        .sort(
          (a, b) =>
            step(a.distance) - step(b.distance) ||
            byText(date(rows[a.entry].content), date(rows[b.entry].content)),
        );
      for (const { entry, distance } of representatives(index, near)) {
        const [query, candidate] = row < entry ? [row, entry] : [entry, row];
        const key = `${query} ${candidate}`;
        const pair = pairs.get(key) ?? {
          query,
          candidate,
          distance,
          date: date(rows[entry].content),
          seekers: new Set(),
        };
        pairs.set(key, pair);
        pair.seekers.add(seeker);
      }
    }
  });
  const bodies = ({ query, candidate }: Pair): number =>
    Number(rows[query].body !== null || rows[candidate].body !== null);
  return [...pairs.values()].sort(
    (a, b) =>
      step(a.distance) - step(b.distance) ||
      bodies(a) - bodies(b) ||
      byText(a.date, b.date) ||
      a.distance - b.distance ||
      a.query - b.query ||
      a.candidate - b.candidate,
  );
}

/** Of shapes that are more like each other than like the one that seeks, only the first few. */
function representatives(index: KinIndex, near: readonly Neighbor[]): Neighbor[] {
  const chosen: Neighbor[] = [];
  for (const neighbor of near) {
    const alike = chosen.filter(
      ({ entry }) => entryDistance(index, entry, neighbor.entry) <= alikeFrom(neighbor.distance),
    );
    if (alike.length < kinDefaults.auditRepresentatives) chosen.push(neighbor);
    if (chosen.length === kinDefaults.candidates) break;
  }
  return chosen;
}

function alikeFrom(distance: number): number {
  return Math.max(kinDefaults.auditAlike, kinDefaults.auditAlikeShare * distance);
}

function maySame(distance: number): boolean {
  return distance <= kinDefaults.sameShapeWithin;
}

/** Distances within which no fingerprint tells one shape from another: there the oldest goes first. */
function step(distance: number): number {
  return distance <= kinDefaults.alikeWithin ? 0 : 1 + Math.floor(distance / kinDefaults.otherFacetsWithin);
}

/** What pairs of one wave would bring together. */
function chains() {
  const parents = new Map<number, number>();
  const met = new Set<string>();
  const top = (shape: number): number => {
    let at = shape;
    for (let up = parents.get(at); up !== undefined; up = parents.get(at)) at = up;
    return at;
  };
  const meet = (a: number, b: number): boolean => {
    const [x, y] = [top(a), top(b)];
    const key = x < y ? `${x} ${y}` : `${y} ${x}`;
    if (x === y || met.has(key)) return false;
    met.add(key);
    return true;
  };
  return {
    /** Two that are likely the same. @returns false where they are brought together already */
    join(a: number, b: number): boolean {
      const fresh = meet(a, b);
      if (fresh) parents.set(top(a), top(b));
      return fresh;
    },
    /** Two that are likely reworked. @returns false where their families meet already */
    meet,
  };
}
