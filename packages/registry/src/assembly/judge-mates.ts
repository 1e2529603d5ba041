import { judgeGap } from '@kinprint/fit';
import type { VariantDocument } from '@kinprint/manifest';
import type { Plane } from '@kinprint/mesh';
import type { PartLook } from '../check/facts.ts';
import { bears } from '../check/rules/within.ts';
import { distanceApart, standingOf, type Axis } from './axes.ts';
import { declaredMates, type DeclaredMate, type InterfaceAt } from './declared-mates.ts';
import { assemblyDefaults } from './defaults.ts';
import type { Instance } from './instances.ts';
import { judgeMeasured, rounded } from './judge-measured.ts';
import { mateFeatures, type MateFeatures, type Placed } from './mate-features.ts';
import { axisToFlat, flatToFlat, type FlatStanding, type PlacedFlat } from './placed-flats.ts';
import type { Mate, MateLine } from './types.ts';

/** A mate with where it is declared, and the axes that its bore has in the assembly. */
export interface JudgedMate {
  readonly declared: DeclaredMate;
  readonly mate: Mate;
  /** None of a slot or a face. */
  readonly bores: readonly Placed<Axis>[];
}

/**
 * How every declared pair stands: the measured clearance against the declared class (ISO 286-1: the difference of the
 * sizes; of two faces the gap as they are placed), and whether the two lie in line where both are placed.
 *
 * @param looks what was measured of the parts, by their index
 * @param planes what a closer look found, by the part's index; nothing or null: the largest planes of its mesh
 */
export function judgeMates(
  manifest: VariantDocument,
  looks: readonly (PartLook | null | undefined)[],
  placed: readonly Instance[],
  planes: readonly (readonly Plane[] | null)[] = [],
): { readonly mates: readonly JudgedMate[]; readonly tooMany: boolean } {
  const features = mateFeatures(manifest, looks, planes, placed);
  const all = declaredMates(manifest);
  const crowd = { tooMany: false };
  const mates = all.map((declared): JudgedMate => {
    const { seat, takes } = declared;
    if (seat.face.kind === 'face' && takes.kind === 'face')
      return { declared, bores: [], mate: facesMate(declared, takes.at, features, crowd) };
    const bores = seat.face.kind === 'bore' ? features.axes(seat) : [];
    return { declared, bores, mate: seatMate(declared, bores, boresOfSame(all, declared), features, crowd) };
  });
  return { mates, tooMany: crowd.tooMany };
}

/** Told when there are too many copies of something to look at all pairs. */
interface Crowd {
  tooMany: boolean;
}

/** A bore or a slot, and what goes in. */
function seatMate(
  { seat, takes, clearance }: DeclaredMate,
  bores: readonly Placed<Axis>[],
  sharing: readonly InterfaceAt[],
  features: MateFeatures,
  crowd: Crowd,
): Mate {
  const width = widthOf(seat, features);
  const inside = takes.kind === 'hardware' ? takes.across_mm : widthOf(takes.at, features);
  const metric = takes.kind === 'hardware' && takes.metric;
  const judged = width === null || inside === null ? null : judgeMeasured(width, inside, clearance, metric);
  const others = takes.kind === 'hardware' ? sharing : [takes.at];
  const play_mm = Math.max(0, judged?.clearance_mm ?? 0);
  const engages = takes.kind !== 'hardware';
  const slots = seat.face.kind === 'slot' ? features.flats(seat) : [];
  const axes = others.flatMap(at => named(at, features.axes(at)));
  const flats = takes.kind === 'tongue' ? others.flatMap(at => named(at, features.flats(at))) : [];
  const many = (bores.length + slots.length) * (axes.length + flats.length) > assemblyDefaults.maxLines;
  crowd.tooMany ||= many;
  const lines = many
    ? []
    : [
        ...bores.flatMap(one => boreLine(one, axes, play_mm, engages)),
        ...slots.flatMap(one => slotLine(one, axes, flats, play_mm)),
      ];
  return {
    seat: { kind: seat.face.kind === 'slot' ? 'slot' : 'bore', ...endOf(seat), measured_mm: width },
    takes:
      takes.kind === 'hardware'
        ? {
            kind: 'hardware',
            hardware: takes.item.id,
            size: takes.item.size ?? null,
            across_mm: takes.across_mm,
          }
        : { kind: takes.kind, ...endOf(takes.at), measured_mm: inside },
    declared: clearance,
    clearance_mm: judged?.clearance_mm ?? null,
    asked: judged?.asked ?? null,
    verdict: judged?.verdict ?? 'unmeasured',
    lines: withoutFree(lines, Math.max(width ?? 0, inside ?? 0)),
  };
}

/** Two faces: what is between them as they are placed. */
function facesMate(
  { seat, clearance }: DeclaredMate,
  at: InterfaceAt,
  features: MateFeatures,
  crowd: Crowd,
): Mate {
  const [seats, others] = [features.flats(seat), named(at, features.flats(at))];
  const many = seats.length * others.length > assemblyDefaults.maxLines;
  crowd.tooMany ||= many;
  const lines = many ? [] : seats.flatMap(one => faceLine(one, others));
  const gaps = lines.filter(({ in_line }) => in_line).map(({ offset_mm }) => offset_mm);
  const gap = gaps.length === 0 ? null : rounded(gaps.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a)));
  const judged = gap === null ? null : judgeGap(gap, bears(seat.face) + bears(at.face), clearance);
  return {
    seat: { kind: 'face', ...endOf(seat), measured_mm: null },
    takes: { kind: 'face', ...endOf(at), measured_mm: null },
    declared: clearance,
    clearance_mm: gap,
    asked: judged?.asked ?? null,
    verdict: judged?.verdict ?? 'unmeasured',
    lines,
  };
}

/** Bores of other parts that take the same piece of hardware. */
function boresOfSame(all: readonly DeclaredMate[], { seat, takes }: DeclaredMate): InterfaceAt[] {
  return all.flatMap(other =>
    takes.kind === 'hardware' &&
    other.takes.kind === 'hardware' &&
    other.takes.item === takes.item &&
    other.seat.face.kind === 'bore' &&
    other.seat.partIndex !== seat.partIndex
      ? [other.seat]
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

type Named<Feature> = Placed<Feature> & { readonly name: string };

function named<Feature>({ face }: InterfaceAt, placed: readonly Placed<Feature>[]): Named<Feature>[] {
  return placed.map(one => ({ ...one, name: face.id }));
}

function boreLine(
  { instance, feature }: Placed<Axis>,
  candidates: readonly Named<Axis>[],
  play_mm: number,
  engages: boolean,
): MateLine[] {
  return nearest(
    candidates.map(other => {
      const standing = standingOf(feature, other.feature);
      return {
        far: distanceApart(standing),
        line: {
          ...lineOf(instance, other),
          ...standing,
          in_line: isStraight(standing, play_mm) && (!engages || standing.overlap_mm > 0),
        },
      };
    }),
  );
}

function slotLine(
  { instance, feature }: Placed<PlacedFlat>,
  axes: readonly Named<Axis>[],
  flats: readonly Named<PlacedFlat>[],
  play_mm: number,
): MateLine[] {
  const judged = (other: Named<unknown>, { ahead_mm, angle_deg, within }: FlatStanding) => {
    const standing = { offset_mm: Math.abs(ahead_mm), angle_deg };
    return {
      far: standing.offset_mm + angle_deg + (within ? 0 : apart),
      line: {
        ...lineOf(instance, other),
        ...standing,
        overlap_mm: null,
        in_line: within && isStraight(standing, play_mm),
      },
    };
  };
  return nearest([
    ...axes.map(other => judged(other, axisToFlat(feature, other.feature))),
    ...flats.map(other => judged(other, flatToFlat(feature, other.feature))),
  ]);
}

function faceLine(
  { instance, feature }: Placed<PlacedFlat>,
  candidates: readonly Named<PlacedFlat>[],
): MateLine[] {
  return nearest(
    candidates.map(other => {
      const { ahead_mm, angle_deg, opposed, within } = flatToFlat(feature, other.feature);
      const in_line = opposed && within && angle_deg <= assemblyDefaults.angle_deg;
      return {
        far: Math.abs(ahead_mm) + angle_deg + (in_line ? 0 : apart),
        line: { ...lineOf(instance, other), offset_mm: ahead_mm, angle_deg, overlap_mm: null, in_line },
      };
    }),
  );
}

/** Added to what cannot belong together, so that it is named only where nothing else is there. */
const apart = 1e6;

function nearest(lines: readonly { readonly far: number; readonly line: MateLine }[]): MateLine[] {
  let best: (typeof lines)[number] | null = null;
  for (const one of lines) if (best === null || one.far < best.far) best = one;
  return best === null ? [] : [best.line];
}

function lineOf(
  instance: Instance,
  other: Named<unknown>,
): Pick<MateLine, 'seat' | 'other' | 'other_interface'> {
  return { seat: instance.name, other: other.instance.name, other_interface: other.name };
}

/** Whether offset and angle are within what the play and the usual tolerances take up. */
export function isStraight(
  { offset_mm, angle_deg }: { readonly offset_mm: number; readonly angle_deg: number },
  play_mm: number,
): boolean {
  return offset_mm <= play_mm / 2 + assemblyDefaults.offset_mm && angle_deg <= assemblyDefaults.angle_deg;
}

/** The size that matters, in the tightest of several; null where it was not found. */
function widthOf(at: InterfaceAt, { rounds, flat }: MateFeatures): number | null {
  switch (at.face.kind) {
    case 'bore':
      return measuredSize(
        rounds(at).map(round => round.inscribed_diameter_mm),
        Math.min,
      );
    case 'pin':
      return measuredSize(
        rounds(at).map(round => round.diameter_mm),
        Math.max,
      );
    case 'slot':
    case 'tongue': {
      const found = flat(at);
      return found === null ? null : rounded(found.width_mm);
    }
    case 'face':
      return null;
  }
}

/** null of nothing. */
function measuredSize(sizes: readonly number[], pick: (...sizes: number[]) => number): number | null {
  return sizes.length === 0 ? null : rounded(pick(...sizes));
}

function endOf({ part, face }: InterfaceAt): Pick<Mate['seat'], 'part' | 'interface' | 'nominal_mm'> {
  return { part, interface: face.id, nominal_mm: face.nominal_mm ?? null };
}
