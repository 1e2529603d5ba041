import { declaredIn, type Declared } from '../kin/declared.ts';
import type { KinPlace } from '../kin/registered-parts.ts';
import { lineageOf } from '../lineage/lineage-of.ts';
import type { LineageEdge, LineageGraph } from '../lineage/types.ts';
import type { OpenedSource } from '../sources/open-sources.ts';
import { standing } from '../state/digest.ts';
import type { RegistryState } from '../state/types.ts';
import type { RegistryWorks } from './works-of.ts';

/** The letters of a registry and its sources. */
export interface RegisteredLetters {
  /** The work that a part belongs to: its letter, or what its variant holds now. Undefined for a variant without. */
  workOf(place: KinPlace): string | undefined;
  /** ISO 8601 date of a work; undefined for what has no letter. */
  dateOf(work: string): string | undefined;
  /** The date of a variant's first letter; undefined where it has none. */
  firstDate(address: string): string | undefined;
  /** What the lineages of all of them say of one variant and any other. */
  declared(address: string): (other: string) => Declared;
}

export async function registeredLetters(
  state: RegistryState,
  { works, heads, graph }: RegistryWorks,
  sources: ReadonlyMap<string, OpenedSource>,
): Promise<RegisteredLetters> {
  const dates = new Map(works.flatMap(({ id, date }) => (date === null ? [] : [[id, date] as const])));
  const firsts = new Map<string, string>();
  const now = new Map(heads);
  for (const [name, from] of [['', state] as const, ...[...sources].map(([n, s]) => [n, s.state] as const)])
    for (const { address: bare, document } of from.variants.values()) {
      const address = name === '' ? bare : `${name}:${bare}`;
      const revisions = document.value?.revisions ?? [];
      for (const { letter, date } of revisions) {
        if (!dates.has(`${address}@${letter}`)) dates.set(`${address}@${letter}`, date);
        const first = firsts.get(address);
        if (first === undefined || date < first) firsts.set(address, date);
      }
      if (name === '' || document.value === null) continue;
      const { status, last } = await standing(from, bare);
      now.set(address, status === 'recorded' && last !== null ? `${address}@${last.letter}` : address);
    }
  const says = declaredIn(withSources(graph, state, sources));
  const known = new Map<string, (other: string) => Declared>();
  return {
    workOf: ({ address, letter }) => (letter === null ? now.get(address) : `${address}@${letter}`),
    dateOf: work => dates.get(work),
    firstDate: address => firsts.get(address),
    declared(address) {
      const said = known.get(address) ?? says(address);
      known.set(address, said);
      return said;
    },
  };
}

/**
 * The lineage with those of the sources as they tell them themselves, also of what ours does not come from. A revision
 * is the same one wherever its digest is recorded: in a registry that was copied from ours, and where another names ours.
 */
function withSources(
  graph: LineageGraph,
  state: RegistryState,
  sources: ReadonlyMap<string, OpenedSource>,
): LineageGraph {
  const nodes = new Map(graph.nodes.map(node => [node.id, node]));
  const edges: LineageEdge[] = [...graph.edges];
  const ours = new Map(
    [...state.variants.values()].flatMap(({ address, document }) =>
      (document.value?.revisions ?? []).map(
        ({ letter, digest }) => [digest, `${address}@${letter}`] as const,
      ),
    ),
  );
  const link = (from: string, digest: string | undefined): void => {
    const to = digest === undefined ? undefined : ours.get(digest);
    if (to !== undefined && from !== to)
      edges.push({ from, to, relation: 'copy', changes: null, otherDigest: false });
  };
  for (const [name, source] of sources) {
    const theirs = lineageOf(source.state);
    for (const node of theirs.nodes) {
      const [id, address] = [`${name}:${node.id}`, `${name}:${node.address}`];
      if (!nodes.has(id)) nodes.set(id, { ...node, id, address });
      if (node.digest !== null) link(id, node.digest);
    }
    for (const edge of theirs.edges)
      edges.push({ ...edge, from: `${name}:${edge.from}`, to: `${name}:${edge.to}` });
    for (const { address, document } of source.state.variants.values())
      for (const { digest } of document.value?.derivations ?? []) {
        const letter = document.value?.revisions?.at(0)?.letter;
        const from = `${name}:${address}`;
        link(letter === undefined ? from : `${from}@${letter}`, digest);
      }
  }
  return { nodes: [...nodes.values()], edges };
}
