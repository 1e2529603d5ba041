import { compareMeshes, materialWith, type ComparedShapes, type PartVerdict } from '@kinprint/compare';
import { measureMesh, type Mesh } from '@kinprint/mesh';
import type { PartReview, PartShapes, Review, ReviewFinding, VariantReview } from '@kinprint/registry';
import { loadKernel } from '@kinprint/solid';

/** A part of a review, with the meshes that belong to it. */
export interface SamplePart {
  readonly part: PartReview;
  readonly shapes: PartShapes | null;
}

const kernel = loadKernel();

/** What a review says of a part that was one mesh and is another; really compared. */
export async function changedPart(
  id: string,
  title: string,
  before: Mesh,
  after: Mesh,
  more: Partial<PartReview> = {},
): Promise<SamplePart> {
  const kept: ComparedShapes[] = [];
  const [from, to] = [before, after].map(mesh => ({ mesh, measurement: measureMesh(mesh) }));
  const comparison = await compareMeshes(
    materialWith(() => kernel),
    from,
    to,
    {},
    undefined,
    shapes => kept.push(shapes),
  );
  const shapes = kept.at(-1);
  return {
    part: samplePart(id, title, comparison.verdict, {
      was: id,
      pairing: 'path',
      comparison,
      mass_g: { before: comparison.mass.before_g, after: comparison.mass.after_g },
      ...more,
    }),
    shapes: { kind: 'change', comparison, meshes: { before, after, ...shapes } },
  };
}

/** A part as a review has it, of which nothing is known but its name. */
export function samplePart(
  id: string,
  title: string | null,
  verdict: PartVerdict,
  more: Partial<PartReview> = {},
): PartReview {
  return {
    id,
    title,
    was: null,
    pairing: verdict === 'removed' ? 'removed' : 'added',
    verdict,
    comparison: null,
    problem: null,
    mesh: { before: null, after: null },
    mass_g: { before: null, after: null },
    interfaces: [],
    interchange: { answer: 'yes', form: 'same', fit: 'same', function: 'same', reasons: [] },
    ...more,
  };
}

/** A variant of these parts, of the lending group that the demo is about. */
export function sampleVariant(
  parts: readonly PartReview[],
  more: Partial<VariantReview> = {},
): VariantReview {
  return {
    address: 'utensil-cuff/child-5-6-left',
    title: 'Utensil cuff, left hand, 5 to 6 years',
    change: 'changed',
    against: null,
    assembly: null,
    digest: { before: null, after: null },
    letter: { before: 'B', after: null },
    interchange: { answer: 'yes', form: 'same', fit: 'same', function: 'same', reasons: [] },
    step: 'letter',
    parts,
    hardware: [],
    manifest: [],
    derivations: [],
    reprint: [],
    signoffs: [],
    evidence: [],
    vetting_unread: [],
    descendants: [],
    ...more,
  };
}

export function sampleReview(
  variants: readonly VariantReview[],
  findings: readonly ReviewFinding[] = [],
  more: Partial<Review> = {},
): Review {
  const count = (keep: (finding: ReviewFinding) => boolean): number => findings.filter(keep).length;
  const blocking = count(finding => finding.blocks);
  return {
    registry: 'Lending group for utensil cuffs',
    before: { name: 'main', commit: null },
    after: { name: 'wider-strap', commit: null },
    commits: { after: 2, elsewhere: 0, shared: true },
    decision: blocking > 0 ? 'blocked' : 'ask',
    variants,
    files: [],
    findings,
    counts: {
      blocking,
      errors: count(finding => finding.severity === 'error'),
      warnings: count(finding => finding.severity === 'warning'),
      asks: count(finding => finding.severity === 'ask'),
      notes: count(finding => finding.severity === 'note'),
    },
    ...more,
  };
}
