import type { DatedLetter, ShapeFact } from '@kinprint/license';
import type { Cache } from '../cache/cache.ts';
import type { StateHistory } from '../history/content-at.ts';
import { declaredIn } from '../kin/declared.ts';
import { byContent, type Candidate } from '../kin/find-kin.ts';
import { contentKey, printMeshes } from '../kin/print-parts.ts';
import { presentParts, recordedParts, type KinPlace } from '../kin/registered-parts.ts';
import { indexContents, relatedContents, type RelatedContent } from '../kin/related-contents.ts';
import { openVerifier, type PairVerifier } from '../kin/verify-pairs.ts';
import type { RegistryState } from '../state/types.ts';
import type { UnreadPart } from './derived-shapes.ts';
import type { RegistryWorks } from './works-of.ts';

export interface UndeclaredRelatives {
  /** Of each part the strongest relative first. */
  readonly facts: readonly ShapeFact[];
  readonly unread: readonly UnreadPart[];
}

type Part = Candidate<KinPlace>;

/**
 * Parts of the works audited that have the shape of a part of another variant, while the lineage connects the two in no
 * way; with the oldest letters on either side that have it. All that the registry holds and held is looked through.
 */
export async function undeclaredRelatives(
  state: RegistryState,
  history: StateHistory,
  works: RegistryWorks,
  targets: readonly string[],
  cache: Cache,
  progress: (done: number, total: number) => void = () => undefined,
): Promise<UndeclaredRelatives> {
  const present = await presentParts(state, null);
  const all = [...present, ...(await recordedParts(state, history, null)).parts];
  const groups = byContent(all);
  const numbers = new Map(groups.map((group, k) => [contentKey(group[0]), k]));
  const firsts = groups.map(group => group[0]);
  const prints = await printMeshes(firsts, cache, progress);
  const index = indexContents(firsts, prints);
  const says = declaredIn(works.graph);
  const dates = letterDates(works);
  const audited = new Set(targets);
  const named = new Map<string, Part[]>();
  for (const part of all) {
    const known = named.get(part.place.part);
    if (known === undefined) named.set(part.place.part, [part]);
    else known.push(part);
  }

  const facts: ShapeFact[] = [];
  const unread = new Map<string, string>();
  const verifier = openVerifier(cache, true);
  try {
    let address = '';
    let undeclared = (_: Part): boolean => false;
    let ancestor = (_: Part): boolean => false;
    for (const [k, part] of present.entries()) {
      const work = works.heads.get(part.place.address);
      const own = numbers.get(contentKey(part));
      if (work === undefined || !audited.has(work)) continue;
      if (own === undefined || prints[own] === null) {
        unread.set(`${work}/${part.place.part}`, 'Its mesh cannot be read.');
        continue;
      }
      if (address !== part.place.address) {
        address = part.place.address;
        const said = says(address);
        undeclared = ({ place }) => said(place.address) === 'not-declared';
        ancestor = ({ place }) => said(place.address) === 'ancestor';
      }
      const wanted = (content: number): boolean => groups[content].some(undeclared);
      const { related } = await relatedContents(part, prints[own], index, verifier, wanted);
      progress(k + 1, present.length);
      // What came along from an ancestor is as old as it is there.
      const letters = (named.get(part.place.part) ?? []).filter(
        other => other.place.address === address || ancestor(other),
      );
      const variants = byVariant(related, groups, undeclared);
      const found = await Promise.all(
        variants.map(variant => factOf(work, part, variant, letters, { works, dates, verifier })),
      );
      const order = new Map(found.map((fact, n) => [fact, related.indexOf(variants[n][0].relative)]));
      facts.push(...found.sort((a, b) => strongThenOld(a, b, order)));
    }
  } finally {
    await verifier.close();
  }
  return { facts, unread: [...unread].map(([part, problem]) => ({ part, problem })) };
}

/** The parts of one other variant that a part is related to; the strongest first. */
type VariantRelatives = readonly { readonly relative: RelatedContent; readonly places: readonly Part[] }[];

function byVariant(
  related: readonly RelatedContent[],
  groups: readonly (readonly Part[])[],
  undeclared: (part: Part) => boolean,
): VariantRelatives[] {
  const variants = new Map<string, { relative: RelatedContent; places: Part[] }[]>();
  for (const relative of related) {
    const here = new Map<string, Part[]>();
    for (const part of groups[relative.content].filter(undeclared))
      here.set(part.place.address, [...(here.get(part.place.address) ?? []), part]);
    for (const [address, places] of here)
      variants.set(address, [...(variants.get(address) ?? []), { relative, places }]);
  }
  return [...variants.values()];
}

interface Knowledge {
  readonly works: RegistryWorks;
  readonly dates: ReadonlyMap<string, string>;
  readonly verifier: PairVerifier;
}

async function factOf(
  work: string,
  part: Part,
  variant: VariantRelatives,
  letters: readonly Part[],
  { works, dates, verifier }: Knowledge,
): Promise<ShapeFact> {
  const [{ relative, places }] = variant;
  const { kinship } = relative;
  const dated = (all: readonly Part[]): { readonly part: Part; readonly letter: DatedLetter }[] =>
    all
      .flatMap(each => {
        const id = workOf(each, works);
        const date = id === undefined ? undefined : dates.get(id);
        return id === undefined || date === undefined ? [] : [{ part: each, letter: { work: id, date } }];
      })
      .sort((a, b) => (a.letter.date < b.letter.date ? -1 : a.letter.date > b.letter.date ? 1 : 0));
  const theirs = dated(variant.flatMap(each => each.places)).at(0)?.letter ?? null;
  let ours: DatedLetter | null = null;
  for (const { part: own, letter } of dated(letters)) {
    if (!(await sameOrKin(own, part, places[0], verifier))) continue;
    ours = letter;
    break;
  }
  const shown = dated(places).at(0)?.part ?? places[0];
  const mirrored = kinship.mirrored && kinship.relation !== 'reworked' && kinship.relation !== 'rescaled';
  return {
    work,
    part: part.place.part,
    other: { work: workOf(shown, works) ?? shown.place.address, part: shown.place.part },
    kinship: mirrored ? 'mirrored' : kinship.relation,
    // Kin tells the size of the other with ours as 1.
    scale: kinship.scale === 1 ? null : 1 / kinship.scale,
    oldest: { ours, theirs },
  };
}

/** Whether an earlier letter of ours had the shape already: it is the same mesh, or is related to theirs as well. */
async function sameOrKin(own: Part, now: Part, theirs: Part, verifier: PairVerifier): Promise<boolean> {
  if (contentKey(own) === contentKey(now)) return true;
  const found = await verifier.verify({ query: theirs, candidate: own, queryBody: null, body: null });
  return found !== null && found !== 'candidate-unreadable';
}

/** Reworked ones last; of those what has more in common first; of equals the oldest. */
function strongThenOld(a: ShapeFact, b: ShapeFact, order: ReadonlyMap<ShapeFact, number>): number {
  const [weak, other] = [a, b].map(({ kinship }) => Number(kinship === 'reworked'));
  const common = weak === 1 ? (order.get(a) ?? 0) - (order.get(b) ?? 0) : 0;
  const [x, y] = [a, b].map(({ oldest }) => oldest.theirs?.date ?? 'none');
  return weak - other || common || (x < y ? -1 : x > y ? 1 : 0);
}

function workOf({ place }: Part, { heads }: RegistryWorks): string | undefined {
  return place.letter === null ? heads.get(place.address) : `${place.address}@${place.letter}`;
}

function letterDates({ works }: RegistryWorks): ReadonlyMap<string, string> {
  return new Map(works.flatMap(({ id, date }) => (date === null ? [] : [[id, date] as const])));
}
