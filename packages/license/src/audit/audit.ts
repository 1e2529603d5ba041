import { blendFindings } from './blends.ts';
import { creditFindings } from './credits-owed.ts';
import { dutiesOwed, type OwedDuty } from './duties.ts';
import { byWeight, type AuditFinding, type AuditSeverity } from './findings.ts';
import { graphOf } from './graph.ts';
import { layerFindings } from './judge-layers.ts';
import { leftOutFinding } from './left-out.ts';
import { markFindings } from './marks.ts';
import { ownFindings, policyFindings, termFindings } from './own.ts';
import { partFindings } from './part-findings.ts';
import { partGraphOf, partLayersOf } from './parts.ts';
import { relativeFindings, variantOf } from './relatives.ts';
import { useAnswer, type Use, type UseAnswer } from './use.ts';
import { walk } from './walk.ts';
import type { LeftOut, LicensePolicy, ShapeFact, Works } from './works.ts';

/** Said with every outcome. */
export const noLegalAdvice =
  'This is no legal advice. It compares what the manifests say with a table of what licenses ask; a table knows no circumstances.';

export interface AuditOptions {
  /** Ids of the works to audit; all of them where left out. */
  readonly targets?: readonly string[];
  readonly policy?: LicensePolicy;
  /** What measurement says of the shapes of parts. */
  readonly facts?: readonly ShapeFact[];
  /** Shapes that were not looked at. */
  readonly left?: readonly LeftOut[];
  /** What is to be done with the works audited. */
  readonly use?: Use | null;
}

export interface AuditedWork {
  readonly id: string;
  readonly title: string;
  readonly license: string | null;
  /** How many works it came from, earlier letters of its own among them. */
  readonly ancestors: number;
  /** The worst first. */
  readonly findings: readonly AuditFinding[];
  readonly duties: readonly OwedDuty[];
  readonly use: UseAnswer | null;
}

export interface AuditReport {
  readonly works: readonly AuditedWork[];
  readonly counts: Readonly<Record<AuditSeverity, number>>;
  readonly disclaimer: string;
}

/**
 * Audits works along their lineage: whether every older work allows what was made of it, whether what licenses ask for
 * was done, and whether a use is open. Pure; for each work linear in its lineage (times the number of different licenses
 * in it).
 *
 * @throws Error for a target that is no work: whoever asks has looked it up
 */
export function audit(works: Works, options: AuditOptions = {}): AuditReport {
  const { policy = {}, facts = [], left = [], use = null } = options;
  const graph = graphOf(works);
  const partGraph = partGraphOf(graph);
  const factsOf = new Map<string, ShapeFact[]>();
  for (const fact of facts) {
    const known = factsOf.get(variantOf(fact.work));
    if (known === undefined) factsOf.set(variantOf(fact.work), [fact]);
    else known.push(fact);
  }
  const targets = options.targets ?? works.works.map(work => work.id);
  const leftOut = leftOutFinding(targets, left);
  const audited = targets.map((id): AuditedWork => {
    const work = graph.works.get(id);
    if (work === undefined) throw new Error(`${id} is no work of this lineage.`);
    const layers = walk(graph, work, policy);
    const parts = partLayersOf(partGraph, work, policy);
    const credited = [...layers, ...parts.flatMap(part => part.authored)];
    const whole = [
      ...ownFindings(work),
      ...policyFindings(graph, work, layers, policy),
      ...layerFindings(graph, work, layers),
      ...blendFindings(graph, work, layers, policy),
      ...creditFindings(graph, work, credited),
      ...markFindings(graph, work, layers, policy),
      ...termFindings(graph, work, layers),
      ...relativeFindings(graph, partGraph, work, layers, factsOf, policy),
    ];
    const findings = [
      ...whole,
      ...(leftOut?.work === id ? [leftOut] : []),
      ...(partGraph === null ? [] : partFindings(partGraph, work, parts, policy, whole)),
    ].sort(byWeight);
    return {
      id,
      title: work.title,
      license: work.license,
      ancestors: new Set(layers.map(layer => layer.work.id)).size - 1,
      findings,
      duties: [
        ...dutiesOwed(graph, work, layers),
        ...parts.flatMap(part => dutiesOwed(graph, part.work, part.judged)),
      ],
      use: use === null ? null : useAnswer(graph, work, layers, parts, use),
    };
  });
  return { works: audited, counts: countsOf(audited), disclaimer: noLegalAdvice };
}

function countsOf(audited: readonly AuditedWork[]): Record<AuditSeverity, number> {
  const counts = { error: 0, warning: 0, ask: 0, note: 0 };
  for (const { findings } of audited) for (const { severity } of findings) counts[severity] += 1;
  return counts;
}
