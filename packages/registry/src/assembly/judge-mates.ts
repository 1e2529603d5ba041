import {
  judgeClearance,
  type ClearanceClass,
  type ClearanceRange,
  type ClearanceVerdict,
} from '@kinprint/fit';
import type { VariantDocument } from '@kinprint/manifest';
import type { PartLook } from '../check/facts.ts';
import { matchRounds, type Round } from '../check/rules/match-rounds.ts';
import { assemblyDefaults } from './defaults.ts';
import { axisOf, distanceApart, standingOf, type Axis } from './axes.ts';
import { declaredMates, type DeclaredMate, type InterfaceAt } from './declared-mates.ts';
import type { Instance } from './instances.ts';
import type { HardwareEnd, Mate, MateEnd, MateLine, PinEnd } from './types.ts';

/** A mate with where it is declared, and the axes that its bore has in the assembly. */
export interface JudgedMate {
  readonly declared: DeclaredMate;
  readonly mate: Mate;
  readonly bores: readonly PlacedAxis[];
}

/** A feature of a placed part. */
export interface PlacedAxis {
  readonly instance: Instance;
  readonly axis: Axis;
}

/**
 * How every declared pair of bore and pin, or bore and hardware, stands: the measured clearance against the declared
 * class (ISO 286-1: the difference of the sizes), and whether the axes lie in line where both are placed.
 *
 * @param looks what was measured of the parts, by their index
 */
export function judgeMates(
  manifest: VariantDocument,
  looks: readonly (PartLook | null | undefined)[],
  placed: readonly Instance[],
): { readonly mates: readonly JudgedMate[]; readonly tooMany: boolean } {
  const found = manifest.parts.map(({ interfaces = [] }, k) => {
    const look = looks[k];
    if (look?.state !== 'measured' || interfaces.length === 0) return null;
    return matchRounds(
      interfaces,
      look.facts.features.filter((f): f is Round => f.kind !== 'plane'),
    );
  });
  const roundsOf = ({ partIndex, index }: InterfaceAt): readonly Round[] =>
    found[partIndex]?.get(index)?.got ?? [];
  const axesOf = (at: InterfaceAt): PlacedAxis[] =>
    placed
      .filter(({ index }) => index === at.partIndex)
      .flatMap(instance => roundsOf(at).map(round => ({ instance, axis: axisOf(round, instance.motion) })));
  const all = declaredMates(manifest);
  let tooMany = false;
  const mates = all.map((declared): JudgedMate => {
    const { bore, takes, clearance } = declared;
    const width = measuredSize(
      roundsOf(bore).map(round => round.inscribed_diameter_mm),
      Math.min,
    );
    const end = takes.kind === 'pin' ? pinEnd(takes.pin, roundsOf(takes.pin)) : hardwareEnd(takes);
    const inside = end.kind === 'pin' ? end.measured_mm : end.across_mm;
    const judged =
      width === null || inside === null
        ? null
        : judgedBy(width, inside, clearance, takes.kind === 'hardware' && takes.metric);
    const bores = axesOf(bore);
    const others = takes.kind === 'pin' ? [takes.pin] : boresOfSame(all, declared);
    const candidates = others.flatMap(at => axesOf(at).map(axis => ({ ...axis, name: at.face.id })));
    const many = bores.length * candidates.length > assemblyDefaults.maxLines;
    tooMany ||= many;
    const play_mm = Math.max(0, judged?.clearance_mm ?? 0);
    return {
      declared,
      bores,
      mate: {
        bore: { ...named(bore), measured_mm: width },
        takes: end,
        declared: clearance,
        clearance_mm: judged?.clearance_mm ?? null,
        asked: judged?.asked ?? null,
        verdict: judged?.verdict ?? 'unmeasured',
        lines: many
          ? []
          : withoutFree(
              bores.flatMap(one => lineOf(one, candidates, play_mm, takes.kind === 'pin')),
              Math.max(width ?? 0, inside ?? 0),
            ),
      },
    };
  });
  return { mates, tooMany };
}

/** Bores of other parts that take the same piece of hardware. */
function boresOfSame(all: readonly DeclaredMate[], { bore, takes }: DeclaredMate): InterfaceAt[] {
  return all.flatMap(other =>
    takes.kind === 'hardware' &&
    other.takes.kind === 'hardware' &&
    other.takes.item === takes.item &&
    other.bore.partIndex !== bore.partIndex
      ? [other.bore]
      : [],
  );
}

/** A bore that is farther off than its own width, while the pin it names sits in another bore, is one to spare. */
function withoutFree(lines: readonly MateLine[], width_mm: number): MateLine[] {
  return lines.filter(
    line =>
      line.in_line ||
      line.offset_mm <= width_mm ||
      !lines.some(({ in_line, other }) => in_line && other === line.other),
  );
}

function lineOf(
  { instance, axis }: PlacedAxis,
  candidates: readonly (PlacedAxis & { readonly name: string })[],
  play_mm: number,
  engages: boolean,
): MateLine[] {
  let best: MateLine | null = null;
  let least = Infinity;
  for (const other of candidates) {
    const standing = standingOf(axis, other.axis);
    const apart = distanceApart(standing);
    if (apart >= least) continue;
    least = apart;
    const straight =
      standing.offset_mm <= play_mm / 2 + assemblyDefaults.offset_mm &&
      standing.angle_deg <= assemblyDefaults.angle_deg;
    best = {
      bore: instance.name,
      other: other.instance.name,
      other_interface: other.name,
      ...standing,
      in_line: straight && (!engages || standing.overlap_mm > 0),
    };
  }
  return best === null ? [] : [best];
}

function judgedBy(
  bore_mm: number,
  pin_mm: number,
  of: ClearanceClass | null,
  metric: boolean,
): {
  readonly clearance_mm: number;
  readonly asked: ClearanceRange | null;
  readonly verdict: ClearanceVerdict;
} {
  const exact = (nominal_mm: number) => ({ nominal_mm, plus_mm: 0, minus_mm: 0 });
  const { nominal_mm, asked, verdict } = judgeClearance(exact(bore_mm), exact(pin_mm), of, metric);
  return { clearance_mm: rounded(nominal_mm), asked, verdict };
}

/** null of nothing. */
function measuredSize(sizes: readonly number[], pick: (...sizes: number[]) => number): number | null {
  return sizes.length === 0 ? null : rounded(pick(...sizes));
}

function rounded(mm: number): number {
  const steps = Math.round(1 / assemblyDefaults.measured_mm);
  return Math.round(mm * steps) / steps;
}

function named({ part, face }: InterfaceAt): Omit<MateEnd, 'measured_mm'> {
  return { part, interface: face.id, nominal_mm: face.nominal_mm ?? null };
}

function pinEnd(pin: InterfaceAt, rounds: readonly Round[]): PinEnd {
  const measured_mm = measuredSize(
    rounds.map(round => round.diameter_mm),
    Math.max,
  );
  return { kind: 'pin', ...named(pin), measured_mm };
}

function hardwareEnd({ item, across_mm }: Extract<DeclaredMate['takes'], { kind: 'hardware' }>): HardwareEnd {
  return { kind: 'hardware', hardware: item.id, size: item.size ?? null, across_mm };
}
