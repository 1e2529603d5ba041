import type { WorkGraph } from './graph.ts';
import { linkOf, type Link } from './link.ts';
import { walk, type Layer } from './walk.ts';
import type { LicensePolicy, PartDescent, Relation, Shape, Work } from './works.ts';

/** A part as a work of its own, under its own license or else that of the whole. */
export interface PartWork extends Work {
  readonly ownLicense: boolean;
  readonly ownAuthors: boolean;
}

/** A part of the work audited, and what it came from. */
export interface PartLayers {
  readonly part: string;
  readonly work: PartWork;
  /** Ancestors of the part to be judged: those where it, or they, state a license of their own. */
  readonly judged: readonly Layer[];
  /** Ancestors whose authors count for the part: those that state authors or a license of their own. */
  readonly authored: readonly Layer[];
}

/** The lineage of parts: each part follows the part it came from, whatever the variants around them are. */
export interface PartGraph extends WorkGraph {
  /** The part as a work; undefined for one that is not there. */
  part(work: string, part: string): PartWork | undefined;
}

/** Null where no part says anything of its own: then the whole is all there is to judge. Linear in parts and links. */
export function partGraphOf(graph: WorkGraph): PartGraph | null {
  const all = [...graph.works.values()];
  if (!all.some(({ parts }) => parts.some(part => part.license !== null || part.authors !== null)))
    return null;
  const works = new Map<string, PartWork>();
  for (const work of all) for (const part of partWorks(work)) works.set(part.id, part);
  const older = new Map<string, Link[]>();
  for (const [from, links] of graph.older) {
    const newer = graph.works.get(from);
    if (newer === undefined) continue;
    for (const link of links) {
      for (const { part, from: origin, shape } of matched(link, newer, graph.works.get(link.to))) {
        const [own, its] = [works.get(idOf(from, part)), works.get(idOf(link.to, origin))];
        if (own === undefined || its === undefined) continue;
        const relation = relationOf(link.relation, shape);
        const { changes, restated = false } = link;
        const made = linkOf({ from: own.id, to: its.id, relation, changes, shape, restated }, own, its);
        const known = older.get(own.id);
        if (known === undefined) older.set(own.id, [made]);
        else known.push(made);
      }
    }
  }
  const parts = { works, older, license: graph.license.bind(graph) };
  return { ...parts, part: (work, part) => works.get(idOf(work, part)) };
}

/** What every part of a work came from, as far as something of its own is stated anywhere on the way. */
export function partLayersOf(graph: PartGraph | null, work: Work, policy: LicensePolicy): PartLayers[] {
  if (graph === null) return [];
  return work.parts.flatMap(({ id }): PartLayers[] => {
    const start = graph.part(work.id, id);
    if (start === undefined) return [];
    const layers = walk(graph, start, policy);
    const found = layers.map(layer => ({ layer, at: layer.work as PartWork }));
    const judged = found.filter(({ at }) => at === start || at.ownLicense || start.ownLicense);
    const authored = found.filter(({ at }) => at !== start && (at.ownAuthors || at.ownLicense));
    return [
      {
        part: id,
        work: start,
        judged: judged.map(({ layer }) => layer),
        authored: authored.map(({ layer }) => layer),
      },
    ];
  });
}

function partWorks(work: Work): PartWork[] {
  const { license, authors, known, date, url, published, withheld } = work;
  return work.parts.map(part => ({
    id: idOf(work.id, part.id),
    title: part.id,
    license: part.license ?? license,
    authors: part.authors ?? authors,
    parts: [],
    known,
    date,
    url,
    ...(published === undefined ? {} : { published }),
    ...(withheld === undefined ? {} : { withheld }),
    ownLicense: part.license !== null,
    ownAuthors: part.authors !== null,
  }));
}

function idOf(work: string, part: string): string {
  return `${work}/${part}`;
}

/** Where nobody looked, a part of the same id is taken for the older one, in a shape that is not known. */
function matched(link: Link, newer: Work, older: Work | undefined): readonly PartDescent[] {
  if (link.parts !== undefined) return link.parts;
  const there = new Set(older?.parts.map(({ id }) => id));
  const shape = link.shape === 'unchanged' ? link.shape : null;
  return newer.parts.filter(({ id }) => there.has(id)).map(({ id }) => ({ part: id, from: id, shape }));
}

/** A part does not combine: it was taken as it is, or changed. */
function relationOf(relation: Relation, shape: Shape | null): Relation {
  if (relation !== 'combination') return relation;
  return shape === null || shape === 'changed' || shape === 'restored' ? 'remix' : 'copy';
}
