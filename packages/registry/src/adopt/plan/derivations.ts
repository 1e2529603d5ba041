import type { Analysis, FoundPart } from '../judge/analyze.ts';
import type { KinPair } from '../judge/kin-pairs.ts';
import type { Run } from '../history/letters.ts';
import { fileAt } from '../history/part-lines.ts';
import type { LetterSources } from './letters.ts';
import type { DerivationPlan, Question } from './types.ts';

/** A variant on its way: its runs are its letters. */
export interface DraftVariant {
  readonly sources: LetterSources;
  readonly runs: readonly Run[];
}

/**
 * How a variant's first letter came from another variant, as far as shapes tell: every part a scaled copy by one
 * factor, or a mirror image (or its own). Only where the parts of that first letter are those that were compared.
 */
export function derivationOf(variant: DraftVariant, base: DraftVariant): DerivationPlan | Question | null {
  const { analysis, group } = variant.sources;
  const first = variant.runs[0];
  const relation = relationOf(variant, base);
  if (relation === null) return null;
  const words =
    relation.kind === 'mirror' ? 'Mirrored.' : `Scaled by ${String(Number(relation.factor.toFixed(4)))}.`;
  const letter = base.runs.findLastIndex(run => run.first <= first.last);
  const content = letter < 0 ? null : base.runs[letter];
  const unchanged = content !== null && isLatest(variant, first.last) && isLatest(base, content.last);
  if (!unchanged)
    return {
      code: 'derivation',
      variant: group.id,
      part: null,
      text: `Today's shapes are those of '${base.sources.group.id}' ${relation.kind === 'mirror' ? 'mirrored' : `scaled by ${String(Number(relation.factor.toFixed(4)))}`}; was it made from it, and from which letter?`,
    };
  const sameTime = analysis.states[first.first] === analysis.states[base.runs[0].first];
  return {
    variant: base.sources.group.id,
    letter,
    relation: relation.kind,
    changes: words,
    unsettled: sameTime
      ? 'Told by the shapes alone: which of the two was made from the other is not known.'
      : 'Told by the shapes and by which came first.',
  };
}

type Relation = { readonly kind: 'mirror' } | { readonly kind: 'rescale'; readonly factor: number };

function relationOf(variant: DraftVariant, base: DraftVariant): Relation | null {
  const { analysis } = variant.sources;
  const [own, others] = [presentParts(variant), presentParts(base)];
  const factors: number[] = [];
  let mirrored = 0;
  for (const part of own) {
    if (others.includes(part)) continue;
    const match = others.flatMap(other => matchOf(analysis, part, other) ?? []).at(0);
    if (match === undefined) return null;
    if (match.mirrored) mirrored++;
    factors.push(match.factor);
  }
  if (factors.length === 0) return null;
  const factor = factors[0];
  if (!factors.every(each => Math.abs(each / factor - 1) < 1e-3)) return null;
  if (Math.abs(factor - 1) > 1e-3) return mirrored === 0 ? { kind: 'rescale', factor } : null;
  return mirrored > 0 ? { kind: 'mirror' } : null;
}

function presentParts({ sources }: DraftVariant): FoundPart[] {
  return [...sources.parts.values()].flatMap(({ part }) => (part.present ? [part] : []));
}

/** The factor from `other` to `part` when one is an exact copy of the other. */
function matchOf(
  { pairs }: Analysis,
  part: FoundPart,
  other: FoundPart,
): { readonly factor: number; readonly mirrored: boolean } | null {
  const exact: readonly KinPair['verdict'][] = ['identical', 'same-shape', 'moved', 'mirrored', 'rescaled'];
  for (const pair of pairs) {
    if (!exact.includes(pair.verdict) || pair.factor === null) continue;
    const { mirrored } = pair;
    if (pair.a === other.key && pair.b === part.key) return { factor: pair.factor, mirrored };
    if (pair.b === other.key && pair.a === part.key) return { factor: 1 / pair.factor, mirrored };
  }
  return null;
}

/** Whether all present parts already had their latest content in a state. */
function isLatest(variant: DraftVariant, state: number): boolean {
  return presentParts(variant).every(({ line, entry }) => {
    const then = fileAt(line, state);
    return then !== null && then.digest === entry.digest;
  });
}
