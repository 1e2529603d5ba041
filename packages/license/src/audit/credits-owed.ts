import type { Duty } from '../rules/types.ts';
import { unavoidable } from './duties-of.ts';
import { basisOf, finding, type AuditFinding } from './findings.ts';
import type { WorkGraph } from './graph.ts';
import { pathTo, type Layer } from './walk.ts';
import type { Work } from './works.ts';

/** Somebody whose name must go along, and for which older work. */
export interface OwedCredit {
  readonly name: string;
  readonly layer: Layer;
  /** Null where naming is only custom. */
  readonly duty: Duty | null;
  /** Whether the work names that person. */
  readonly named: boolean;
}

/**
 * Who must be named on a work because of what it came from, near and far, each once and for the nearest work. Names that
 * were never supplied, or whose bearers asked for silence, are not owed (CC-BY-4.0 3(a)(1)(A), 3(a)(3)).
 *
 * @param layers of the work, and those of its parts that name authors of their own
 */
export function creditsOwed(graph: WorkGraph, work: Work, layers: readonly Layer[]): OwedCredit[] {
  const named = new Set(namesOn(work).map(plainName));
  const owed = new Map<string, OwedCredit>();
  for (const layer of layers) {
    if (layer.work === work) continue;
    const { authors, license } = layer.work;
    const expression = graph.license({ license });
    for (const author of authors) {
      const name = plainName(author.name);
      if (expression === null || (layer.work.withheld ?? []).some(held => plainName(held) === name)) continue;
      const duty = unavoidable(expression, 'credit', ['share']);
      const before = owed.get(name);
      // A duty outweighs custom, wherever in the lineage it comes from.
      if (before !== undefined && (before.duty !== null || duty === null)) continue;
      owed.set(name, { name: author.name, layer, duty, named: named.has(name) });
    }
  }
  return [...owed.values()];
}

/** Everybody whom a work names. */
export function namesOn(work: Work): string[] {
  return [...work.authors, ...work.parts.flatMap(part => part.authors ?? [])].map(author => author.name);
}

/** A name for comparing: letter case, width of signs and blanks do not count. */
export function plainName(name: string): string {
  return name.normalize('NFKC').trim().replace(/\s+/gu, ' ').toLowerCase();
}

export function creditFindings(graph: WorkGraph, work: Work, layers: readonly Layer[]): AuditFinding[] {
  const missing = creditsOwed(graph, work, layers).filter(credit => !credit.named);
  const byWork = new Map<string, OwedCredit[]>();
  for (const credit of missing) {
    const key = `${credit.layer.work.id} ${credit.duty === null ? 'custom' : 'duty'}`;
    byWork.set(key, [...(byWork.get(key) ?? []), credit]);
  }
  return [...byWork.values()].map(credits => creditFinding(work, credits));
}

function creditFinding(work: Work, credits: readonly OwedCredit[]): AuditFinding {
  const [{ layer, duty }] = credits;
  const names = list(credits.map(credit => credit.name));
  const path = pathTo(layer);
  if (duty === null)
    return finding(
      'credit-custom',
      work.id,
      `${work.id} does not name ${names}, of ${layer.work.id}; the license does not ask for it.`,
      'Naming them is good custom.',
      { path },
    );
  return finding(
    'credit-missing',
    work.id,
    `${work.id} does not name ${names}, of ${layer.work.id}, whose license asks for it.`,
    `Add ${names} to its authors. If a name was withdrawn or never given, nothing is owed.`,
    { path, basis: basisOf(duty) },
  );
}

function list(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}
