import type { Author, Descent, LicensePolicy, Work, Works } from '@kinprint/license';
import type { VariantDocument } from '@kinprint/manifest';
import { presentContent, revisionContent, type StateHistory } from '../history/content-at.ts';
import type { RevisionContent } from '../history/history.ts';
import { bareNode } from '../lineage/bare-node.ts';
import { lineageOf } from '../lineage/lineage-of.ts';
import type { LineageEdge, LineageGraph, LineageNode } from '../lineage/types.ts';
import type { OpenedSource } from '../sources/open-sources.ts';
import { standing } from '../state/digest.ts';
import type { RegistryState } from '../state/types.ts';
import { shapedDescents } from './derived-shapes.ts';

/** The lineage of a registry as works for the audit. */
export interface RegistryWorks extends Works {
  readonly graph: LineageGraph;
  /** For each variant the id of what it holds now: its last letter, or what is not recorded yet. */
  readonly heads: ReadonlyMap<string, string>;
  /** What every work holds, where it is at hand. */
  readonly contents: ReadonlyMap<string, RevisionContent>;
  /** Letters whose manifest could not be had from history; what the variant says now stands in for it. */
  readonly guessed: readonly string[];
}

/** What of other registries and of the outside is known. */
export interface WorksContext {
  /** Other registries that are at hand, by the name that this one's registry.yaml gives them. */
  readonly sources?: ReadonlyMap<string, OpenedSource>;
  /** http(s) address where the registry is published; null where not known. */
  readonly published: string | null;
}

/**
 * Reads what every letter said of its license and authors when it was recorded: later authors are not owed to those who
 * built on an earlier letter.
 */
export async function worksOf(
  state: RegistryState,
  history: StateHistory,
  context: WorksContext,
): Promise<RegistryWorks> {
  const changed = new Set<string>();
  for (const [address, variant] of state.variants)
    if (variant.document.value !== null && (await standing(state, address)).status === 'changed')
      changed.add(address);
  const graph = lineageOf(state, {
    changed,
    sources: new Map([...sourcesOf(context)].map(([name, source]) => [name, source.state])),
  });
  const heads = new Map<string, string>();
  const guessed: string[] = [];
  const works: Work[] = [];
  const contents = new Map<string, RevisionContent>();
  for (const node of graph.nodes) {
    if (state.variants.has(node.address)) heads.set(node.address, node.id);
    const { document, content, sure } = await contentOf(state, history, node, context);
    if (!sure) guessed.push(node.id);
    if (content !== null) contents.set(node.id, content);
    works.push(workOf(node, document, content, state, context));
  }
  const { descents } = await shapedDescents(
    graph.edges.map(edge => descentOf(edge, contents)),
    contents,
    null,
  );
  return { works, descents, graph, heads, guessed, contents };
}

/** What the registry's policy settles. */
export function licensePolicy(state: RegistryState): LicensePolicy {
  const {
    forbid,
    mirror_is_adaptation: mirror,
    rescale_is_adaptation: rescale,
  } = state.registry?.value?.policy?.licenses ?? {};
  return {
    ...(forbid === undefined ? {} : { forbid }),
    ...(mirror === undefined ? {} : { mirrorIsAdaptation: mirror }),
    ...(rescale === undefined ? {} : { rescaleIsAdaptation: rescale }),
  };
}

interface Known {
  readonly document: VariantDocument | null;
  readonly content: RevisionContent | null;
  readonly sure: boolean;
}

async function contentOf(
  state: RegistryState,
  history: StateHistory,
  node: LineageNode,
  context: WorksContext,
): Promise<Known> {
  const home = homeOf(node, { state, history }, context);
  const address = node.address.slice(node.address.indexOf(':') + 1);
  const variant = home?.state.variants.get(address);
  const present = variant?.document.value ?? null;
  if (home === null || variant === undefined || present === null || node.status === 'missing')
    return { document: null, content: null, sure: true };
  if (node.letter === null)
    return { document: present, content: presentContent(home.state, variant), sure: true };
  const found = await revisionContent(home.state, address, node.letter, home.history);
  const document = found.found ? found.content.document.value : null;
  if (!found.found || document === null) return { document: present, content: null, sure: false };
  return { document, content: found.content, sure: true };
}

/** Works of other registries by their ids, whether ours came from them or not. */
export async function sourceWorks(
  state: RegistryState,
  ids: readonly string[],
  context: WorksContext,
): Promise<Work[]> {
  const works: Work[] = [];
  for (const id of ids) {
    const at = id.lastIndexOf('@');
    const [address, letter] = at < 0 ? [id, null] : [id.slice(0, at), id.slice(at + 1)];
    const home = sourcesOf(context).get(address.slice(0, Math.max(0, address.indexOf(':'))));
    const variant = home?.state.variants.get(address.slice(address.indexOf(':') + 1));
    if (home === undefined || variant === undefined) continue;
    const date = variant.document.value?.revisions?.find(each => each.letter === letter)?.date ?? null;
    const node = { ...bareNode(address, letter, letter === null ? 'unrecorded' : 'recorded'), date };
    const { document, content } = await contentOf(state, home.history, node, context);
    works.push(workOf(node, document, content, state, context));
  }
  return works;
}

type Home = Pick<OpenedSource, 'state' | 'history'>;

/** The registry that holds a node; null for one that is not at hand. */
function homeOf({ address }: LineageNode, ours: Home, context: WorksContext): Home | null {
  const colon = address.indexOf(':');
  return colon < 0 ? ours : (sourcesOf(context).get(address.slice(0, colon)) ?? null);
}

function sourcesOf({ sources = new Map() }: WorksContext): ReadonlyMap<string, OpenedSource> {
  return sources;
}

const noticeName = /^(NOTICE|AUTHORS|COPYRIGHT)(\.[a-z]+)?$/i;

function workOf(
  node: LineageNode,
  document: VariantDocument | null,
  content: RevisionContent | null,
  state: RegistryState,
  context: WorksContext,
): Work {
  const name = node.address.slice(0, Math.max(0, node.address.indexOf(':')));
  const home = name === '' ? state : sourcesOf(context).get(name)?.state;
  const parts = document?.parts ?? [];
  // Where every part has a license of its own, the registry's stands for nothing.
  const covered = parts.length > 0 && parts.every(part => part.license !== undefined);
  const fallback = covered ? null : (home?.registry?.value?.license ?? null);
  return {
    id: node.id,
    title: document?.title ?? node.title,
    license: document?.license ?? fallback,
    authors: authorsOf(document?.authors ?? []),
    parts: parts.map(part => ({
      id: part.id,
      license: part.license ?? null,
      authors: part.authors === undefined ? null : authorsOf(part.authors),
    })),
    known: document !== null,
    date: node.date,
    url: name === '' ? context.published : webAddress(state.registry?.value?.sources?.[name]?.git),
    notices: (content?.refs ?? []).flatMap(ref => {
      const name = ref.path.slice(ref.path.lastIndexOf('/') + 1);
      return noticeName.test(name) ? [name] : [];
    }),
  };
}

/** Where a source can be looked at by anybody; null for folders and private ways. */
function webAddress(git: string | undefined): string | null {
  return git !== undefined && /^https?:/.test(git) ? git : null;
}

function authorsOf(authors: readonly { readonly name: string; readonly url?: string }[]): Author[] {
  return authors.map(({ name, url }) => ({ name, url: url ?? null }));
}

function descentOf(
  { from, to, relation, changes }: LineageEdge,
  contents: ReadonlyMap<string, RevisionContent>,
): Descent {
  const base: Descent = { from, to, relation, changes };
  const document = contents.get(from)?.document.value ?? null;
  if (relation !== 'combination' || document === null) return base;
  const each = document.parts.length > 0 && document.parts.every(part => part.license !== undefined);
  return { ...base, collection: document.license === undefined && each };
}
