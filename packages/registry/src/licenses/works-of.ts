import type { Author, Descent, LicensePolicy, Work, Works } from '@kinprint/license';
import type { VariantDocument } from '@kinprint/manifest';
import { presentContent, revisionContent, type StateHistory } from '../history/content-at.ts';
import type { RevisionContent } from '../history/history.ts';
import { lineageOf } from '../lineage/lineage-of.ts';
import type { LineageEdge, LineageGraph, LineageNode } from '../lineage/types.ts';
import { shapedDescents } from './derived-shapes.ts';
import { standing } from '../state/digest.ts';
import type { RegistryState } from '../state/types.ts';

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
  readonly sources?: ReadonlyMap<string, RegistryState>;
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
    ...(context.sources === undefined ? {} : { sources: context.sources }),
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
  { sources }: WorksContext,
): Promise<Known> {
  const colon = node.address.indexOf(':');
  const home = colon < 0 ? state : sources?.get(node.address.slice(0, colon));
  const variant = home?.variants.get(node.address.slice(colon + 1));
  const present = variant?.document.value ?? null;
  if (variant === undefined || present === null || node.status === 'missing')
    return { document: null, content: null, sure: true };
  if (node.letter === null) return { document: present, content: presentContent(state, variant), sure: true };
  // Of another registry what it holds now is read; its history is not gone through.
  if (home !== state) return { document: present, content: null, sure: false };
  const found = await revisionContent(state, node.address, node.letter, history);
  const document = found.found ? found.content.document.value : null;
  if (!found.found || document === null) return { document: present, content: null, sure: false };
  return { document, content: found.content, sure: true };
}

const noticeName = /^(NOTICE|AUTHORS|COPYRIGHT)(\.[a-z]+)?$/i;

function workOf(
  node: LineageNode,
  document: VariantDocument | null,
  content: RevisionContent | null,
  state: RegistryState,
  { published, sources }: WorksContext,
): Work {
  const colon = node.address.indexOf(':');
  const home = colon < 0 ? state : sources?.get(node.address.slice(0, colon));
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
    url: colon < 0 ? published : null,
    notices: (content?.refs ?? []).flatMap(ref => {
      const name = ref.path.slice(ref.path.lastIndexOf('/') + 1);
      return noticeName.test(name) ? [name] : [];
    }),
  };
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
