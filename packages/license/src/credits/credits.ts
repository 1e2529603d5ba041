import { termsOf, termText } from '../expression/tree.ts';
import { creditsOwed, plainName } from '../audit/credits-owed.ts';
import { graphOf, type WorkGraph } from '../audit/graph.ts';
import { walk, type Layer } from '../audit/walk.ts';
import type { Relation, Work, Works } from '../audit/works.ts';
import { choicesOf } from '../rules/choices.ts';

/** A license that is named, with where its text stands. */
export interface CreditLicense {
  /** As the manifest has it, e.g. `CC-BY-SA-4.0`. */
  readonly name: string;
  /** Null for terms that nobody published. */
  readonly url: string | null;
}

/** What a newer work made of an older one. */
export interface CreditChange {
  /** The newer work. */
  readonly by: string;
  readonly relation: Relation;
  /** In a sentence; null where nothing was said. */
  readonly changes: string | null;
}

/** One work to be credited: title, author, source, license, and what became of it. */
export interface CreditEntry {
  /** Id of its revision; of several letters the nearest. */
  readonly id: string;
  readonly title: string;
  readonly authors: readonly string[];
  /** Names for which the license does not ask; the others must be named. */
  readonly customary: readonly string[];
  readonly url: string | null;
  /** Those of parts with a license of their own among them. */
  readonly licenses: readonly CreditLicense[];
  readonly changes: readonly CreditChange[];
  /** How many steps up the lineage; 0 for the work itself. */
  readonly generation: number;
}

/** The attribution of a work: itself and everything that it came from, nearest first. */
export interface Credits {
  readonly work: CreditEntry;
  readonly from: readonly CreditEntry[];
  /** Works of which nothing is known but the name: their authors cannot be told. */
  readonly unknown: readonly string[];
}

/**
 * Who must be named for a work, near and far (title, author, source, license, changes: CC-BY-4.0 3(a)(1); the custom of
 * giving the title also where version 4.0 only recommends it). Letters of one variant are one entry, with the names of
 * all that are in the lineage. Names whose bearers asked for silence are left out.
 *
 * @throws Error for an id that is no work: whoever asks has looked it up
 */
export function credits(works: Works, id: string): Credits {
  const graph = graphOf(works);
  const work = graph.works.get(id);
  if (work === undefined) throw new Error(`${id} is no work of this lineage.`);
  const layers = walk(graph, work, {});
  const required = new Set(
    creditsOwed(
      graph,
      { ...work, authors: [], parts: work.parts.map(part => ({ ...part, authors: null })) },
      layers,
    )
      .filter(credit => credit.duty !== null)
      .map(credit => plainName(credit.name)),
  );
  const lines = new Map<string, Layer[]>();
  for (const layer of layers) {
    const line = lineOf(layer.work.id);
    const known = lines.get(line);
    if (known === undefined) lines.set(line, [layer]);
    else known.push(layer);
  }
  const own = lines.get(lineOf(id)) ?? [];
  lines.delete(lineOf(id));
  const made = changesIn(graph, layers);
  const generations = new Map<Layer, number>();
  for (const layer of layers)
    generations.set(
      layer,
      layer.before === null ? 0 : (generations.get(layer.before) ?? 0) + (layer.letter ? 0 : 1),
    );
  const entries = [...lines.values()];
  return {
    work: entry(graph, made, own, null, 0),
    from: entries
      .filter(of => of[0].work.known)
      .map(of => entry(graph, made, of, required, generations.get(of[0]) ?? 0)),
    unknown: entries.filter(of => !of[0].work.known).map(of => of[0].work.id),
  };
}

/** `device/variant` of `device/variant@B`. */
function lineOf(id: string): string {
  const at = id.lastIndexOf('@');
  return at < 0 ? id : id.slice(0, at);
}

/** @param required names that must be given; null for the work itself, whose own authors its license is for */
function entry(
  graph: WorkGraph,
  made: ReadonlyMap<string, readonly CreditChange[]>,
  layers: readonly Layer[],
  required: ReadonlySet<string> | null,
  generation: number,
): CreditEntry {
  const [{ work }] = layers;
  const names = new Map<string, string>();
  for (const layer of layers)
    for (const name of namesOf(layer.work)) if (!names.has(plainName(name))) names.set(plainName(name), name);
  return {
    id: work.id,
    title: work.title,
    authors: [...names.values()],
    customary: [...names]
      .filter(([plain]) => required !== null && !required.has(plain))
      .map(([, name]) => name),
    url: work.url,
    licenses: licensesOf(graph, work),
    changes: changesOf(made, layers),
    generation,
  };
}

function namesOf(work: Work): string[] {
  const held = new Set((work.withheld ?? []).map(plainName));
  const parts = work.parts.flatMap(part => part.authors ?? []);
  return [...work.authors, ...parts].map(author => author.name).filter(name => !held.has(plainName(name)));
}

/** Of the work and of those of its parts that have their own, each once. */
function licensesOf(graph: WorkGraph, { license, parts }: Work): CreditLicense[] {
  const named = new Map<string, CreditLicense>();
  for (const text of [license, ...parts.map(part => part.license)]) {
    if (text === null) continue;
    const expression = graph.license({ license: text });
    const terms = expression === null ? [] : termsOf(expression);
    if (expression === null) named.set(text, { name: text, url: null });
    for (const term of terms) {
      const name = termText(term);
      if (!named.has(name)) named.set(name, { name, url: choicesOf(term)[0].license.url });
    }
  }
  return [...named.values()];
}

/** What became of each work, by its id, over all links of the lineage. */
function changesIn(graph: WorkGraph, layers: readonly Layer[]): ReadonlyMap<string, readonly CreditChange[]> {
  const made = new Map<string, CreditChange[]>();
  // Of an earlier letter of something that says by itself what it came from, that is said already.
  for (const id of new Set(layers.filter(layer => !layer.restated).map(layer => layer.work.id)))
    for (const { from: by, to, relation, changes } of graph.older.get(id) ?? []) {
      if (relation === 'revision') continue;
      const change = { by, relation, changes };
      const known = made.get(to);
      if (known === undefined) made.set(to, [change]);
      else known.push(change);
    }
  return made;
}

function changesOf(
  made: ReadonlyMap<string, readonly CreditChange[]>,
  layers: readonly Layer[],
): CreditChange[] {
  return [...new Set(layers.map(layer => layer.work.id))].flatMap(id => made.get(id) ?? []);
}
