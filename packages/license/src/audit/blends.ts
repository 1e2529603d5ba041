import { termsOf, type Expression } from '../expression/tree.ts';
import { choicesOf } from '../rules/choices.ts';
import type { Verdict } from '../rules/types.ts';
import { basisOf, finding, type AuditFinding } from './findings.ts';
import type { WorkGraph } from './graph.ts';
import { blendVerdict } from './layer-verdict.ts';
import { levelOf } from './level.ts';
import { pathTo, takesPlace, type Layer } from './walk.ts';
import type { Link } from './link.ts';
import type { LicensePolicy, Work } from './works.ts';

/** The licenses in a work, by their text, each with one work that brings it. */
type Bag = ReadonlyMap<string, string>;

/**
 * Works that meet in one and cannot be blended, wherever in the lineage they meet. What came from each other does not
 * meet: there the adapter's chart rules. Linear in the lineage, times the number of different licenses in it.
 */
export function blendFindings(
  graph: WorkGraph,
  work: Work,
  layers: readonly Layer[],
  policy: LicensePolicy,
): AuditFinding[] {
  const bags = new Map<string, Bag>();
  const verdicts = new Map<string, Verdict | null>();
  const findings: AuditFinding[] = [];
  const told = new Set<string>();
  const wayTo = new Map<string, Layer>();
  for (const layer of layers) if (!wayTo.has(layer.work.id)) wayTo.set(layer.work.id, layer);

  const meet = (at: Work, a: readonly [string, string], b: readonly [string, string]): void => {
    const pair = [a[0], b[0]].sort().join(' & ');
    const verdict = verdicts.has(pair) ? verdicts.get(pair) : pairVerdict(graph, a[0], b[0]);
    verdicts.set(pair, verdict ?? null);
    if (verdict?.answer !== 'not-permitted' || told.has(pair)) return;
    told.add(pair);
    const way = wayTo.get(at.id);
    const where = at === work ? work.id : `${at.id}, from which ${work.id} came,`;
    findings.push(
      finding(
        'cannot-combine',
        work.id,
        `${where} blends ${a[1]} (${a[0]}) and ${b[1]} (${b[0]}). ${verdict.why}`,
        'Leave one of them out, ask its authors, or keep the parts apart, each unchanged under its own license.',
        {
          path: way === undefined ? [] : pathTo(way),
          also: [a[1], b[1]],
          basis: basisOf(verdict),
        },
      ),
    );
  };

  for (const id of deepestFirst(graph, work.id)) {
    const at = graph.works.get(id);
    if (at === undefined) continue;
    const gathered = new Map<string, string>();
    for (const link of graph.older.get(id) ?? []) {
      const brought = broughtBy(graph, link, bags, policy);
      for (const entry of brought)
        for (const other of gathered) if (entry[0] !== other[0]) meet(at, other, entry);
      for (const [license, from] of brought) if (!gathered.has(license)) gathered.set(license, from);
    }
    bags.set(id, gathered);
  }
  return findings;
}

/** What a link brings along: the older work's license, and those of what that holds. */
function broughtBy(
  graph: WorkGraph,
  link: Link,
  bags: ReadonlyMap<string, Bag>,
  policy: LicensePolicy,
): [string, string][] {
  const older = graph.works.get(link.to);
  if (older === undefined || link.restated === true) return [];
  const level = levelOf(link, policy);
  if (level === 'collected' || link.interfaceOnly === true) return [];
  const held = [...(bags.get(link.to) ?? [])].filter(([license]) => {
    const source = { license };
    return (
      link.relation === 'revision' ||
      license === older.license ||
      !takesPlace(graph, older, source, 'changed')
    );
  });
  if (link.relation === 'revision' || older.license === null || !older.known) return held;
  return [...held, [older.license, older.id]];
}

/** Null where a finding of another kind says it already: no license, none that is known, no derivatives. */
function pairVerdict(graph: WorkGraph, a: string, b: string): Verdict | null {
  const [x, y] = [a, b].map(license => graph.license({ license }));
  if (x === null || y === null || [x, y].some(saidElsewhere)) return null;
  return blendVerdict(x, y);
}

function saidElsewhere(expression: Expression): boolean {
  return termsOf(expression).some(term => {
    const { family, adapt } = choicesOf(term)[0].license;
    return family === 'unknown' || family === 'reserved' || adapt.may !== 'share';
  });
}

/** Everything that a work came from, and the work, each after what it came from; circles are cut. */
function deepestFirst(graph: WorkGraph, start: string): string[] {
  const order: string[] = [];
  const seen = new Set([start]);
  const stack = [{ id: start, next: 0 }];
  while (stack.length > 0) {
    const top = stack[stack.length - 1];
    const links = graph.older.get(top.id) ?? [];
    if (top.next >= links.length) {
      order.push(top.id);
      stack.pop();
      continue;
    }
    const { to } = links[top.next];
    top.next += 1;
    if (seen.has(to)) continue;
    seen.add(to);
    stack.push({ id: to, next: 0 });
  }
  return order;
}
