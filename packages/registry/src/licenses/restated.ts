import { credits, type Credits, type Descent } from '@kinprint/license';
import type { RegistryWorks } from './works-of.ts';

/**
 * Descents for an audit, with the derivations of a variant at each of its letters whose content is at hand. A lineage
 * hangs them on the first letter alone; what is passed on is the letter audited, and its meshes may differ: a change
 * that a later letter took back counts no longer.
 */
export function restatedDescents({
  descents,
  graph,
  contents,
}: Pick<RegistryWorks, 'descents' | 'graph' | 'contents'>): Descent[] {
  const addresses = new Map(graph.nodes.map(({ id, address }) => [id, address]));
  const derivations = new Map<string, Descent[]>();
  for (const descent of descents) {
    const address = addresses.get(descent.from);
    if (descent.relation === 'revision' || address === undefined) continue;
    const known = derivations.get(address);
    if (known === undefined) derivations.set(address, [descent]);
    else known.push(descent);
  }
  const restated = new Set<string>();
  const added = graph.nodes.flatMap(({ id, address }): Descent[] => {
    const hung = derivations.get(address) ?? [];
    if (hung.length === 0 || hung.some(({ from }) => from === id) || !contents.has(id)) return [];
    restated.add(id);
    return hung.map(descent => ({ ...descent, from: id, restated: true }));
  });
  const letters = descents.map(descent =>
    descent.relation === 'revision' && restated.has(descent.from) ? { ...descent, restated: true } : descent,
  );
  return [...letters, ...added];
}

/** The attribution of a work, its derivations judged at each letter as an audit judges them. */
export function creditsOf(works: RegistryWorks, id: string): Credits {
  return credits({ works: works.works, descents: restatedDescents(works) }, id);
}
