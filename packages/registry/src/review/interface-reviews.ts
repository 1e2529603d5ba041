import type { Comparison, FeatureChange } from '@kinprint/compare';
import { limitChange, reason, type Reason } from '@kinprint/fit';
import type { Interface } from '@kinprint/manifest';
import type { Bore } from '@kinprint/mesh';
import { checkDefaults } from '../check/defaults.ts';
import { judgeInterfaces } from '../check/rules/judge-interface.ts';
import type { Measured, Verdict } from '../check/rules/verdict.ts';
import { across, minus } from '../check/rules/vector.ts';
import { mm, place } from '../check/words.ts';
import { reviewDefaults } from './defaults.ts';
import type { PairedPart } from './pair-parts.ts';
import type { SideFacts } from './side-facts.ts';
import type { DeclaredSize, InterfaceReview, InterfaceState } from './types.ts';

export interface InterfacesReviewed {
  readonly interfaces: readonly InterfaceReview[];
  readonly reasons: readonly Reason[];
}

interface SideFace {
  readonly face: Interface;
  readonly verdict: Verdict | null;
}

/** What became of the declared interfaces of a part, and of bores and pins that no interface declares. */
export function reviewInterfaces(
  { before, after, comparison }: PairedPart,
  facts: { readonly before: SideFacts | null; readonly after: SideFacts | null },
): InterfacesReviewed {
  const old = faces(before?.part.interfaces, facts.before);
  const now = faces(after?.part.interfaces, facts.after);
  const silent = stillThere(
    [...old.values()].filter(({ face }) => !now.has(face.id)),
    facts.after,
  );
  const shifts = shiftsOf(comparison);
  const owned = new Set<Shift>();
  const interfaces: InterfaceReview[] = [];
  const reasons: Reason[] = [];
  for (const id of new Set([...old.keys(), ...now.keys()])) {
    const [was, is] = [old.get(id) ?? null, now.get(id) ?? null];
    const face = is?.face ?? was?.face;
    if (face === undefined) continue;
    for (const shift of shifts) if (belongs(shift, face)) owned.add(shift);
    const review = reviewOf(face, was, is, shifts);
    interfaces.push(review);
    reasons.push(...reasonsOf(review, face, was, is, silent.has(id)));
  }
  return {
    interfaces,
    reasons: [
      ...reasons,
      ...undeclared(
        shifts,
        owned,
        comparison,
        [...old.values()].map(({ face }) => face),
      ),
    ],
  };
}

function faces(list: readonly Interface[] | undefined, facts: SideFacts | null): Map<string, SideFace> {
  return new Map((list ?? []).map((face, k) => [face.id, { face, verdict: facts?.verdicts[k] ?? null }]));
}

/** A bore or pin that is not where it was. */
interface Shift {
  readonly change: FeatureChange;
  /** Of its axis, across itself. */
  readonly moved_mm: number;
}

function shiftsOf(comparison: Comparison | null): Shift[] {
  return (comparison?.features.changed ?? []).flatMap(change => {
    if (change.after.kind === 'plane') return [];
    return [{ change, moved_mm: across(minus(change.before.at_mm, change.after.at_mm), change.after.axis) }];
  });
}

/** Whether a changed bore or pin is the one that an interface means, by kind, size and place. */
function belongs({ change: { before, after } }: Shift, face: Interface): boolean {
  if (before.kind === 'plane' || after.kind === 'plane' || after.kind !== face.kind) return false;
  const { nominal_mm: nominal, at_mm: at } = face;
  const { sizeFactor, offAxis_mm, offAxisOfNominal } = checkDefaults.interfaces;
  const near = (d: number): boolean => {
    const ratio = nominal === undefined ? 1 : d / nominal;
    return ratio <= sizeFactor && ratio >= 1 / sizeFactor;
  };
  if (!near(before.diameter_mm) && !near(after.diameter_mm)) return false;
  if (at === undefined) return true;
  const reach = Math.max(offAxis_mm, offAxisOfNominal * (nominal ?? 0));
  return [before, after].some(round => across(minus(at, round.at_mm), after.axis) <= reach);
}

function declaredSize(face: Interface | undefined): DeclaredSize | null {
  if (face?.nominal_mm === undefined) return null;
  const usual = checkDefaults.interfaces.tolerance_mm;
  return {
    nominal_mm: face.nominal_mm,
    plus_mm: face.tolerance_mm?.plus ?? usual,
    minus_mm: face.tolerance_mm?.minus ?? usual,
  };
}

function measuredOf(side: SideFace | null): Measured | null {
  const verdict = side?.verdict;
  return verdict === null || verdict === undefined || !('measured' in verdict) ? null : verdict.measured;
}

function reviewOf(
  face: Interface,
  was: SideFace | null,
  is: SideFace | null,
  shifts: readonly Shift[],
): InterfaceReview {
  const old = measuredOf(was);
  const now = measuredOf(is);
  const own = shifts.filter(shift => belongs(shift, face));
  const moved = own.length === 0 ? null : Math.max(...own.map(shift => shift.moved_mm));
  const sized = face.kind !== 'face';
  return {
    id: face.id,
    kind: face.kind,
    state: stateOf(face, was, is, moved),
    mates: face.mates ?? null,
    declared: { before: declaredSize(was?.face), after: declaredSize(is?.face) },
    measured_mm: {
      before: sized ? (old?.size_mm ?? null) : null,
      after: sized ? (now?.size_mm ?? null) : null,
    },
    at_mm: (now ?? old)?.at_mm ?? face.at_mm ?? null,
    moved_mm: is === null || was === null ? null : moved,
  };
}

function stateOf(
  face: Interface,
  was: SideFace | null,
  is: SideFace | null,
  moved: number | null,
): InterfaceState {
  if (was === null) return 'added';
  if (is === null) return 'gone';
  const { verdict } = is;
  if (verdict === null || verdict.state === 'unchecked') return 'unmeasured';
  // What was never there is not gone; the checks tell that the manifest is wrong.
  if (verdict.state === 'missing') return was.verdict?.state === 'missing' ? 'unmeasured' : 'gone';
  const [old, now] = [measuredOf(was), verdict.measured];
  const sameSize = old !== null && Math.abs(old.size_mm - now.size_mm) <= reviewDefaults.sameSize_mm;
  if (face.kind !== 'face' && !sameSize && outside(now, declaredSize(was.face))) return 'differs';
  if (face.kind === 'face' && verdict.state === 'differs' && was.verdict?.state === 'fits') return 'moved';
  return moved !== null && moved > bearable(was.face) ? 'moved' : 'kept';
}

function outside({ size_mm }: Measured, size: DeclaredSize | null): boolean {
  if (size === null) return false;
  const slack = reviewDefaults.sameSize_mm / 10;
  return (
    size_mm > size.nominal_mm + size.plus_mm + slack || size_mm < size.nominal_mm - size.minus_mm - slack
  );
}

/** How far an axis may wander: what the size may. ISO 2768 bears more for most sizes; printed hinges do not. No source. */
function bearable({ tolerance_mm: t }: Interface): number {
  return t === undefined ? checkDefaults.interfaces.tolerance_mm : Math.max(t.plus, t.minus);
}

function reasonsOf(
  review: InterfaceReview,
  face: Interface,
  was: SideFace | null,
  is: SideFace | null,
  silent: boolean,
): Reason[] {
  const name = `The ${face.kind} '${face.id}'`;
  const takes = face.mates === undefined ? '' : `, which takes ${face.mates},`;
  const at = review.at_mm === null ? '' : ` at ${place(review.at_mm)} mm`;
  const { before: b, after: a } = review.measured_mm;
  const reasons: Reason[] = [];
  switch (review.state) {
    case 'gone':
      reasons.push(
        silent
          ? reason('interface-undeclared', `${name}${takes} is no longer declared, and still in the mesh.`)
          : reason('interface-gone', `${name}${takes} is no longer there.`),
      );
      break;
    case 'added':
      reasons.push(reason('interface-added', `${name} is newly declared.`));
      break;
    case 'differs': {
      const limits = review.declared.before;
      const asked = limits === null ? '' : `; ${sizeWords(limits)} was declared`;
      reasons.push(
        reason(
          'interface-differs',
          `${name}${takes}${at} measures ${b === null ? '' : `${mm(b)} → `}${a === null ? 'another size' : `${mm(a)} mm`}${asked}.`,
        ),
      );
      break;
    }
    case 'moved':
      reasons.push(
        reason(
          'interface-moved',
          `${name}${takes} moved${review.moved_mm === null ? '' : ` by ${mm(review.moved_mm)} mm`}${at === '' ? '' : `; it is now${at}`}.`,
        ),
      );
      break;
    case 'unmeasured':
      if (is !== null && was !== null)
        reasons.push(
          reason(
            'interface-unmeasured',
            `${name}${takes} cannot be measured in the mesh, so it cannot be told whether it is as it was.`,
          ),
        );
      break;
    case 'kept':
  }
  const { before, after } = review.declared;
  if (was === null || is === null) return reasons;
  if (before !== null && after !== null) {
    const change = limitChange(before, after);
    const words = `${name} was declared ${sizeWords(before)}, and is now ${sizeWords(after)}`;
    if (change === 'wider')
      reasons.push(reason('limits-widened', `${words}: new parts need not meet what the old ones had to.`));
    if (change === 'narrower') reasons.push(reason('limits-narrowed', `${words}.`));
  }
  if (was.face.mates !== is.face.mates)
    reasons.push(
      reason(
        'mates-other',
        `${name} took ${was.face.mates ?? 'nothing named'}, and now takes ${is.face.mates ?? 'nothing named'}.`,
      ),
    );
  return reasons;
}

/** `3.2 ± 0.1 mm`. */
export function sizeWords({ nominal_mm, plus_mm, minus_mm }: DeclaredSize): string {
  return plus_mm === minus_mm ? `${nominal_mm} ± ${plus_mm} mm` : `${nominal_mm} +${plus_mm} −${minus_mm} mm`;
}

/** Bores and pins that changed, and that no interface speaks of: what they take is not known. */
function undeclared(
  shifts: readonly Shift[],
  owned: ReadonlySet<Shift>,
  comparison: Comparison | null,
  faces: readonly Interface[],
): Reason[] {
  const changed = shifts.flatMap(shift => {
    const { before, after, what } = shift.change;
    if (owned.has(shift) || before.kind === 'plane' || after.kind === 'plane') return [];
    const other = what.includes('diameter') || shift.moved_mm > checkDefaults.interfaces.tolerance_mm;
    if (!other) return [];
    const how = what.includes('diameter')
      ? `${mm(before.diameter_mm)} → ${mm(after.diameter_mm)} mm`
      : `moved by ${mm(shift.moved_mm)} mm`;
    return [`a ${after.kind} ${how} at ${place(after.at_mm)} mm`];
  });
  const gone = (comparison?.verdict === 'reworked' ? comparison.features.removed : []).flatMap(feature =>
    feature.kind === 'bore' && !faces.some(face => isMeant(face, feature))
      ? [`a bore of ${mm(feature.diameter_mm)} mm is gone at ${place(feature.at_mm)} mm`]
      : [],
  );
  const all = [...changed, ...gone];
  if (all.length === 0) return [];
  const more = all.length > 3 ? ` and ${all.length - 3} more` : '';
  return [
    reason(
      'undeclared-changed',
      `No interface speaks of what changed: ${all.slice(0, 3).join('; ')}${more}.`,
    ),
  ];
}

/** A bore that an interface without a place may mean: what became of it is told with the interface. */
function isMeant({ kind, nominal_mm: nominal }: Interface, bore: Bore): boolean {
  const ratio = nominal === undefined ? 1 : bore.diameter_mm / nominal;
  const { sizeFactor } = checkDefaults.interfaces;
  return kind === 'bore' && ratio <= sizeFactor && ratio >= 1 / sizeFactor;
}

/** Interfaces that are no longer declared, and that the mesh has all the same where they were. */
function stillThere(gone: readonly SideFace[], facts: SideFacts | null): ReadonlySet<string> {
  // Where nothing can be measured, nothing says that it is gone.
  if (facts === null) return new Set(gone.map(({ face }) => face.id));
  const verdicts = judgeInterfaces(
    gone.map(({ face }) => face),
    facts.facts,
  );
  return new Set(gone.flatMap(({ face }, k) => (verdicts[k].state === 'fits' ? [face.id] : [])));
}
