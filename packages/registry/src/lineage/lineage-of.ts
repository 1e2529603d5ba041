import { byText } from '@kinprint/compare';
import {
  compareLetters,
  parseLetter,
  type Derivation,
  type RevisionEntry,
  type VariantDocument,
} from '@kinprint/manifest';
import type { RegistryState, VariantState } from '../state/types.ts';
import { bareNode } from './bare-node.ts';
import type { LineageEdge, LineageGraph, LineageNode } from './types.ts';

/** What manifests alone do not say. */
export interface LineageKnowledge {
  /** Other registries, by the name that this one's registry.yaml gives them. */
  readonly sources?: ReadonlyMap<string, RegistryState>;
  /** Addresses of variants whose present content is no longer that of their last letter. */
  readonly changed?: ReadonlySet<string>;
  /** What was decided of recorded letters, by the node's id. */
  readonly decided?: ReadonlyMap<string, 'vetted' | 'withdrawn'>;
}

/**
 * The lineage of a registry, from its manifests alone: no mesh and no history is read. Each letter follows the one
 * before it; a derivation hangs on the variant's first letter, as a manifest does not say at which letter a later one
 * was added. Of other registries only what ours comes from is taken in. What is named and not there becomes a node of
 * its own, so that nothing that people wrote is left out.
 */
export function lineageOf(state: RegistryState, knowledge: LineageKnowledge = {}): LineageGraph {
  const nodes = new Map<string, LineageNode>();
  const edges: LineageEdge[] = [];
  const waiting: [source: string | null, variant: VariantState][] = [...state.variants.values()].map(v => [
    null,
    v,
  ]);
  const taken = new Set(state.variants.keys());
  /** Derivations whose older end is looked for when all is read. */
  const ends: { edge: LineageEdge; digest: string | null }[] = [];

  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const [source, variant] = next;
    const registry = source === null ? state : knowledge.sources?.get(source);
    const address = prefixed(source, variant.address);
    const made = variantNodes(address, variant, registry?.registry?.value?.license ?? null, knowledge);
    for (const node of made) nodes.set(node.id, node);
    made.slice(1).forEach((node, k) => {
      const changes = revisionOf(variant.document.value, node.letter)?.changes?.join('; ') ?? null;
      edges.push({ from: node.id, to: made[k].id, relation: 'revision', changes, otherDigest: false });
    });
    for (const derivation of variant.document.value?.derivations ?? []) {
      const to = prefixed(source, derivation.from);
      const older = to.slice(0, to.lastIndexOf('@'));
      ends.push({ edge: derivationEdge(made[0].id, to, derivation), digest: derivation.digest ?? null });
      const found = variantAt(older, knowledge);
      if (found === null || taken.has(older)) continue;
      taken.add(older);
      waiting.push([older.slice(0, older.indexOf(':')), found]);
    }
  }

  // A digest names a revision wherever in its registry the folder went.
  const byDigest = new Map(
    [...nodes.values()].flatMap(node =>
      node.digest === null ? [] : [[`${sourceOf(node.id)} ${node.digest}`, node] as const],
    ),
  );
  for (const { edge, digest } of ends) {
    let node =
      nodes.get(edge.to) ?? (digest === null ? undefined : byDigest.get(`${sourceOf(edge.to)} ${digest}`));
    if (node === undefined) {
      node = absentNode(edge.to, state, nodes, knowledge);
      nodes.set(node.id, node);
    }
    edges.push({
      ...edge,
      to: node.id,
      otherDigest: digest !== null && node.digest !== null && digest !== node.digest,
    });
  }
  return { nodes: [...nodes.values()].sort(inOrder), edges: edges.sort(byEnds) };
}

/** The name of the other registry in an id; empty for this one. */
function sourceOf(id: string): string {
  return id.slice(0, Math.max(0, id.indexOf(':')));
}

function prefixed(source: string | null, address: string): string {
  return source === null ? address : `${source}:${address}`;
}

/** A variant of another registry that is at hand. Names within another registry's own sources are not followed. */
function variantAt(address: string, { sources }: LineageKnowledge): VariantState | null {
  const colon = address.indexOf(':');
  if (colon < 0) return null;
  return sources?.get(address.slice(0, colon))?.variants.get(address.slice(colon + 1)) ?? null;
}

function revisionOf(document: VariantDocument | null, letter: string | null): RevisionEntry | undefined {
  return document?.revisions?.find(entry => entry.letter === letter);
}

function derivationEdge(from: string, to: string, { relation, changes }: Derivation): LineageEdge {
  return { from, to, relation, changes: changes ?? null, otherDigest: false };
}

/** The nodes of one variant, oldest first; at least one. */
function variantNodes(
  address: string,
  variant: VariantState,
  registryLicense: string | null,
  { changed, decided }: LineageKnowledge,
): LineageNode[] {
  const document = variant.document.value;
  const base: LineageNode = {
    ...bareNode(address, null, document === null ? 'unreadable' : 'unrecorded'),
    ...(document === null
      ? {}
      : {
          title: document.title,
          license: document.license ?? registryLicense,
          authors: (document.authors ?? []).map(author => author.name),
          hand: handOf(document),
          fit:
            document.fit === undefined
              ? null
              : { body_measure: document.fit.body_measure, base_mm: document.fit.base_mm },
        }),
  };
  // A letter twice is a finding of check; here the first one counts.
  const entries = new Map<string, RevisionEntry>();
  for (const entry of document?.revisions ?? [])
    if (!entries.has(entry.letter)) entries.set(entry.letter, entry);
  const letters = [...entries.values()].map((entry): LineageNode => {
    const id = `${address}@${entry.letter}`;
    const { letter, date, digest } = entry;
    return {
      ...base,
      id,
      letter,
      date,
      digest,
      by: entry.by ?? null,
      status: decided?.get(id) ?? 'recorded',
    };
  });
  if (letters.length === 0) return [base];
  return changed?.has(address) === true ? [...letters, { ...base, status: 'changed' }] : letters;
}

/** A node for a letter that a derivation names and that was not read. */
function absentNode(
  id: string,
  state: RegistryState,
  nodes: ReadonlyMap<string, LineageNode>,
  { sources }: LineageKnowledge,
): LineageNode {
  const at = id.lastIndexOf('@');
  const address = id.slice(0, at);
  const letter = id.slice(at + 1);
  const parts = address.split(':');
  if (parts.length > 2) return bareNode(address, letter, 'elsewhere');
  if (parts.length === 2 && sources?.has(parts[0]) !== true) {
    const listed = Object.hasOwn(state.registry?.value?.sources ?? {}, parts[0]);
    return bareNode(address, letter, listed ? 'elsewhere' : 'missing');
  }
  const unreadable = nodes.get(address)?.status === 'unreadable';
  return bareNode(address, letter, unreadable ? 'unreadable' : 'missing');
}

/** The hand that the parts are for: one, or both; null where no part says. */
function handOf({ parts }: VariantDocument): LineageNode['hand'] {
  const hands = new Set(parts.flatMap(part => (part.hand === undefined ? [] : [part.hand])));
  const [left, right] = [hands.has('left'), hands.has('right')];
  if (left !== right) return left ? 'left' : 'right';
  return hands.size > 0 ? 'both' : null;
}

/** By address, then by letter; content without a letter last. */
function inOrder(a: LineageNode, b: LineageNode): number {
  const [x, y] = [parseLetter(a.letter ?? ''), parseLetter(b.letter ?? '')];
  if (a.address !== b.address) return byText(a.address, b.address);
  if (x === null || y === null) return Number(x === null) - Number(y === null) || byText(a.id, b.id);
  return compareLetters(x, y);
}

function byEnds(a: LineageEdge, b: LineageEdge): number {
  return (
    byText(a.from, b.from) ||
    byText(a.to, b.to) ||
    byText(a.relation, b.relation) ||
    byText(a.changes ?? '', b.changes ?? '')
  );
}
