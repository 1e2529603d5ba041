import path from 'node:path';
import {
  ancestorsOf,
  cachedReader,
  cacheFolder,
  documentsAnd,
  commonAncestors,
  descendantsOf,
  hashMemory,
  indexLineage,
  lineageOf,
  openCache,
  openSources,
  partOfLineage,
  readRegistry,
  standing,
  workingFiles,
  type CommonAncestors,
  type LineageGraph,
  type RegistryState,
  type Sources,
} from '@kinprint/registry';
import {
  lineageDot,
  lineageHtml,
  lineageJson,
  lineageMermaid,
  lineageProv,
  lineageSvg,
  lineageText,
  type LineageAbout,
} from '@kinprint/report';
import { fetchSources } from '../fetch-sources.ts';
import { exit, type Io } from '../io.ts';
import { checkOutputs } from '../outputs.ts';
import { registryFolder } from '../registry-folder.ts';
import { writeOutput } from '../write-output.ts';
import type { LineageFlags } from './lineage-flags.ts';
import { namedNodes, needsVariant } from './lineage-names.ts';
import { tellUnusable } from './tell-unusable.ts';

/** `kinprint lineage [VARIANT]`. */
export async function lineageCommand(
  variant: string | undefined,
  flags: LineageFlags,
  io: Io,
): Promise<number> {
  await checkOutputs(io.cwd, [{ option: '--output', file: flags.output }]);
  const root = registryFolder(flags.registry, io.cwd);
  const folder = cacheFolder();
  const cache = openCache(folder);
  const memory = hashMemory(cache);
  const read = cachedReader(cache);
  let sources: Sources | null = null;
  try {
    // Whether the named ones have changed since their last letter is told by all of their files.
    const named = [variant, flags.common].flatMap(name => name?.split('@')[0] ?? []);
    const state = await readRegistry(workingFiles(root, memory, documentsAnd(named)), read);
    sources = folder === null ? null : openSources(state, { cache: folder, memory, read });
    if (flags.sources) await fetchSources(sources);
    const known = (await sources?.atHand()) ?? new Map<string, RegistryState>();
    const text = await answer(state, known, path.basename(root), variant, flags, io);
    if (flags.output === undefined) io.out(text);
    else await writeOutput(path.resolve(io.cwd, flags.output), text);
    return exit.fine;
  } finally {
    cache.flush();
    await sources?.close();
  }
}

async function answer(
  state: RegistryState,
  sources: ReadonlyMap<string, RegistryState>,
  folder: string,
  variant: string | undefined,
  flags: LineageFlags,
  io: Io,
): Promise<string> {
  tellUnusable(state, io);
  const shown = await choose(state, sources, variant, flags);
  const about: LineageAbout = {
    registry: state.registry?.value?.name ?? folder,
    question: shown.question,
    chosen: shown.chosen,
  };
  return formatted(flags.json ? 'json' : flags.format, shown, about, io);
}

interface Shown {
  readonly graph: LineageGraph;
  readonly question: string | null;
  readonly chosen: readonly string[];
  readonly common: CommonAncestors | null;
}

/** The part of the lineage that was asked for. */
async function choose(
  state: RegistryState,
  sources: ReadonlyMap<string, RegistryState>,
  variant: string | undefined,
  flags: LineageFlags,
): Promise<Shown> {
  if (variant === undefined) {
    for (const flag of ['ancestors', 'descendants', 'common'] as const)
      if (flags[flag] !== undefined && flags[flag] !== false) throw needsVariant(flag);
    return { graph: lineageOf(state, { sources }), question: null, chosen: [], common: null };
  }
  const named = [variant, ...(flags.common === undefined ? [] : [flags.common])];
  const graph = lineageOf(state, { sources, changed: await changedOf(state, named) });
  const index = indexLineage(graph);
  const chosen = namedNodes(graph, variant);
  if (flags.common !== undefined) {
    const others = namedNodes(graph, flags.common);
    const common = commonAncestors(index, chosen, others);
    const kept = [...chosen, ...others, ...ancestorsOf(index, [...chosen, ...others])];
    const nearest = common.nearest.length === 0 ? 'none' : common.nearest.join(', ');
    return {
      graph: partOfLineage(graph, kept),
      question: `Nearest common ancestors of ${variant} and ${flags.common}: ${nearest}`,
      chosen: common.nearest,
      common,
    };
  }
  const older = flags.descendants ? [] : ancestorsOf(index, chosen);
  const newer = flags.ancestors ? [] : descendantsOf(index, chosen);
  const what = flags.ancestors
    ? 'Ancestors'
    : flags.descendants
      ? 'Descendants'
      : 'Ancestors and descendants';
  return {
    graph: partOfLineage(graph, [...chosen, ...older, ...newer]),
    question: `${what} of ${variant}`,
    chosen,
    common: null,
  };
}

/** Which of the variants that were named have changed since their last letter. */
async function changedOf(state: RegistryState, named: readonly string[]): Promise<Set<string>> {
  const changed = new Set<string>();
  for (const name of named) {
    const [address] = name.split('@');
    if (state.variants.has(address) && (await standing(state, address)).status === 'changed')
      changed.add(address);
  }
  return changed;
}

async function formatted(format: string, shown: Shown, about: LineageAbout, io: Io): Promise<string> {
  const { graph, common } = shown;
  switch (format) {
    case 'svg':
      return lineageSvg(graph, about);
    case 'html':
      return lineageHtml(graph, about);
    case 'dot':
      return lineageDot(graph, about);
    case 'mermaid':
      return lineageMermaid(graph, about);
    case 'prov-json':
      return `${JSON.stringify(lineageProv(graph), null, 2)}\n`;
    case 'json':
      return `${JSON.stringify(lineageJson(graph, about, common), null, 2)}\n`;
    default:
      return `${lineageText(graph, about, { columns: io.columns, color: io.color })}\n`;
  }
}
