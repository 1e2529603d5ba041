import type { Descent, PartDescent, Shape } from '@kinprint/license';
import { InputError } from '@kinprint/mesh';
import type { Cache } from '../cache/cache.ts';
import type { RevisionContent } from '../history/history.ts';
import type { Candidate } from '../kin/find-kin.ts';
import { contentKey } from '../kin/print-parts.ts';
import { partsOf, type KinPlace } from '../kin/registered-parts.ts';
import type { Kinship } from '../kin/verify-kin.ts';
import { openVerifier, type PairVerifier } from '../kin/verify-pairs.ts';

/** A part whose mesh could not be read, so that nothing was said of its shape. */
export interface UnreadPart {
  /** `device/variant@B/part`. */
  readonly part: string;
  readonly problem: string;
}

export interface ShapedDescents {
  readonly descents: readonly Descent[];
  readonly unread: readonly UnreadPart[];
}

type Parts = readonly Candidate<KinPlace>[];

interface Making {
  readonly contents: ReadonlyMap<string, RevisionContent>;
  readonly parts: Map<string, Promise<Parts>>;
  /** Null where only equal bytes count, and nothing is compared. */
  readonly verifier: PairVerifier | null;
  readonly unread: Map<string, string>;
}

/**
 * What became of the parts along every derivation, by their meshes: which part came from which, and whether it is the
 * same, mirrored, rescaled, rescaled with interfaces brought back to size, or changed otherwise.
 *
 * A part came from the one of its own id, or else from one with the very same mesh. Where a work came from several, a
 * part that one of them explains without a change is not taken for a changed one of another.
 *
 * @param cache null to compare nothing: only parts of equal bytes are then known to be unchanged
 */
export async function shapedDescents(
  descents: readonly Descent[],
  contents: ReadonlyMap<string, RevisionContent>,
  cache: Cache | null,
  progress: (done: number, total: number) => void = () => undefined,
): Promise<ShapedDescents> {
  const verifier = cache === null ? null : openVerifier(cache);
  const making: Making = { contents, parts: new Map(), verifier, unread: new Map() };
  try {
    let done = 0;
    const all = await Promise.all(
      descents.map(async descent => {
        const parts = await matchesOf(descent, making);
        progress(++done, descents.length);
        return parts === null ? descent : { ...descent, parts };
      }),
    );
    const unread = [...making.unread].map(([part, problem]) => ({ part, problem }));
    return { descents: explained(all), unread };
  } finally {
    await verifier?.close();
  }
}

async function matchesOf({ from, to }: Descent, making: Making): Promise<PartDescent[] | null> {
  const [newer, older] = await Promise.all([partsAt(from, making), partsAt(to, making)]);
  if (newer === null || older === null) return null;
  const found = await Promise.all(
    newer.map(async (part): Promise<PartDescent | null> => {
      const key = contentKey(part);
      const same = older.filter(other => contentKey(other) === key && key !== null);
      const named = older.find(({ place }) => place.part === part.place.part);
      const equal = same.find(other => other === named) ?? same.at(0);
      if (equal !== undefined) return { part: part.place.part, from: equal.place.part, shape: 'unchanged' };
      if (named === undefined) return null;
      const shape = await shapeOf(named, part, { from, to }, making);
      return { part: part.place.part, from: named.place.part, shape };
    }),
  );
  return found.filter(match => match !== null);
}

function partsAt(id: string, { contents, parts }: Making): Promise<Parts> | null {
  const content = contents.get(id);
  if (content === undefined) return null;
  const known = parts.get(id);
  if (known !== undefined) return known;
  const { files, folder, refs, document } = content;
  const made = document.value === null ? [] : partsOf(files, folder, refs, document.value, id, null);
  const read = Promise.resolve(made);
  parts.set(id, read);
  return read;
}

async function shapeOf(
  older: Candidate<KinPlace>,
  newer: Candidate<KinPlace>,
  ids: { readonly from: string; readonly to: string },
  { verifier, contents, unread }: Making,
): Promise<Shape | null> {
  if (verifier === null) return null;
  try {
    const kinship = await verifier.verify({ query: older, candidate: newer, queryBody: null, body: null });
    if (kinship === 'candidate-unreadable') {
      unread.set(`${ids.from}/${newer.place.part}`, 'Its mesh cannot be read.');
      return null;
    }
    return shapeBy(kinship, holds(contents.get(ids.from), newer.place.part));
  } catch (error) {
    // The others are compared all the same; that this one was not is told.
    if (!(error instanceof InputError)) throw error;
    unread.set(`${ids.to}/${older.place.part}`, error.message);
    return null;
  }
}

/** @param held whether the newer part's manifest says that some interface keeps its size */
export function shapeBy(kinship: Kinship | null, held: boolean): Shape | null {
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
      return held && kinship.scale !== 1 && !kinship.mirrored ? 'restored' : 'changed';
  }
}

function holds(content: RevisionContent | undefined, part: string): boolean {
  const found = content?.document.value?.parts.find(({ id }) => id === part);
  return (found?.interfaces ?? []).some(({ scale }) => scale === 'hold');
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
