import { byText } from '@kinprint/compare';
import type { LineageGraph } from '@kinprint/registry';
import { plural } from '../terminal/words.ts';

/** What a lineage is shown of. */
export interface LineageAbout {
  /** The registry's name. */
  readonly registry: string;
  /** What was asked for, e.g. `Kin of cuff/left-58`; null for the whole registry. */
  readonly question: string | null;
  /** Ids of the nodes that were asked about. */
  readonly chosen: readonly string[];
}

export function headline(about: LineageAbout): string {
  return about.registry;
}

/** `Lineage · 12 variants, 23 revisions · last recorded 2024-11-02`. */
export function subtitle(graph: LineageGraph, about: LineageAbout): string {
  const variants = new Set(graph.nodes.map(node => node.address)).size;
  const letters = graph.nodes.filter(node => node.date !== null).length;
  const date = newestDate(graph);
  return [
    about.question ?? 'Lineage',
    `${plural(variants, 'variant')}, ${plural(letters, 'recorded revision')}`,
    date === null ? '' : `last recorded ${date}`,
  ]
    .filter(Boolean)
    .join(' · ');
}

/** The date of the newest letter: a drawing bears no other, so that the same lineage gives the same bytes. */
export function newestDate(graph: LineageGraph): string | null {
  const dates = graph.nodes.flatMap(node => (node.date === null ? [] : [node.date])).sort(byText);
  return dates.at(-1) ?? null;
}
