import type { Part, RegistryDocument, VariantDocument } from '@kinprint/manifest';
import type { Vec3 } from '@kinprint/mesh';
import type { VariantState } from '../../state/types.ts';
import type { Stand } from '../../work/task.ts';
import type { PartFacts, PartLook } from '../facts.ts';
import { inManifest, type Finding } from '../finding.ts';
import { listing, mm } from '../words.ts';
import { dot } from './vector.ts';

type Printer = NonNullable<RegistryDocument['printers']>[number];
type Axis = 'x' | 'y' | 'z';

/** A way for a part to stand: as it is to be printed, on another side, or on one of its large flat faces. */
export interface Way {
  readonly down: Vec3;
  /** The axis that is then vertical; null where none is. */
  readonly axis: Axis | null;
}

/** A part whose box fits on no listed printer as it is to be printed, and in which ways it may stand all the same. */
export interface LargePart {
  /** Its index among the parts. */
  readonly part: number;
  readonly size: Vec3;
  /** As it is to be printed first. */
  readonly ways: readonly Way[];
  readonly printers: readonly Printer[];
}

/** Parts that must be looked at: for all others the box around them says that they fit. */
export function largeParts(
  manifest: VariantDocument,
  registry: RegistryDocument | null,
  looks: readonly (PartLook | null)[],
): LargePart[] {
  const printers = registry?.printers ?? [];
  if (printers.length === 0) return [];
  return manifest.parts.flatMap((part, k) => {
    const look = looks[k];
    if (look?.state !== 'measured' || look.facts.bounds_mm === null) return [];
    const { size } = look.facts.bounds_mm;
    if (printers.some(printer => boxFits(size, axisOf(part), printer))) return [];
    return [{ part: k, size, ways: waysOf(part, look.facts), printers }];
  });
}

/** Printers that take a part as it is to be printed, by the box around it: its own directions, or turned by a quarter. */
export function printersTaking(size: Vec3, part: Part, registry: RegistryDocument | null): readonly string[] {
  return (registry?.printers ?? [])
    .filter(printer => boxFits(size, axisOf(part), printer))
    .map(printer => printer.id);
}

/** Printers that take a part by its box only with another axis up than it is to be printed with, and the first such axis. */
export function printersTakingOnSide(
  size: Vec3,
  part: Part,
  registry: RegistryDocument | null,
): { readonly printer: string; readonly up: Axis }[] {
  const stated = axisOf(part);
  return (registry?.printers ?? []).flatMap(printer => {
    if (boxFits(size, stated, printer)) return [];
    const up = (['z', 'y', 'x'] as const).find(axis => boxFits(size, axis, printer));
    return up === undefined ? [] : [{ printer: printer.id, up }];
  });
}

/**
 * Parts that fit on a listed printer only turned or lying otherwise than they are stored, and parts that fit on none.
 *
 * @param stands how each part of `large` stands, in its ways, on its printers; null where its mesh cannot be read
 */
export function printerFindings(
  variant: VariantState,
  manifest: VariantDocument,
  large: readonly LargePart[],
  stands: readonly (readonly Stand[] | null)[],
): Finding[] {
  return large.flatMap(({ part: k, size, ways, printers }, i) => {
    const found = stands[i] ?? null;
    if (found === null) return [];
    const part = manifest.parts[k];
    const stated = part.print?.up;
    const up = stated ?? 'z';
    const where = stated === undefined ? ['parts', k, 'mesh'] : ['parts', k, 'print', 'up'];
    const say = (
      code: 'part-fits-turned' | 'part-fits-lying' | 'part-too-large',
      text: string,
      remedy: string,
    ): Finding[] => [inManifest(variant, code, where, text, remedy, part.id)];

    const turned = found[0].turned_deg[printers.findIndex((_, p) => found[0].turned_deg[p] !== null)] ?? null;
    if (turned !== null)
      return say(
        'part-fits-turned',
        `With ${up} up the part fits on ${fitting(found[0], printers)} turned by ${degrees(turned)}° about the vertical.`,
        'Turn it so before it is sliced, or store it turned.',
      );
    const other = ways.findIndex((_, w) => w > 0 && found[w].turned_deg.some(angle => angle !== null));
    const volumes = printers.map(({ id, build_volume_mm: v }) => `'${id}' (${v.map(mm).join(' × ')})`);
    const tooLarge = `With ${up} up the part is ${size.map(mm).join(' × ')} mm along x, y and z; so it fits on no listed printer, however it is turned about the vertical: ${listing(volumes)}.`;
    if (other < 0) {
      const faces = ways.filter(way => way.axis === null).length;
      return say(
        'part-too-large',
        tooLarge,
        `Split the part, or list a printer that is large enough. Tried were x, y and z up${faces === 0 ? '' : ` and ${faces === 1 ? 'its large flat face' : `its ${faces} largest slanted faces`} down`}, each turned as far as need be.`,
      );
    }
    const { axis, down } = ways[other];
    const how =
      axis !== null
        ? `lying on its side, with ${axis} up`
        : `lying on a flat face, with (${down.map(v => v.toFixed(2)).join(', ')}) down`;
    const fits = `it fits on ${fitting(found[other], printers)} ${how}`;
    if (stated !== undefined)
      return say('part-too-large', tooLarge, `Otherwise ${fits}: see whether it may be printed so.`);
    return say(
      'part-fits-lying',
      `As it is stored, with z up, the part fits on no listed printer; ${fits}.`,
      axis !== null
        ? `See whether it may be printed so, and state up: ${axis} under print.`
        : 'See whether it may be printed so, and store it lying so.',
    );
  });
}

/** The printers on which a part fits, named. */
function fitting({ turned_deg }: Stand, printers: readonly Printer[]): string {
  return listing(printers.filter((_, p) => turned_deg[p] !== null).map(({ id }) => `'${id}'`));
}

function degrees(angle: number): string {
  return Number.isInteger(angle) ? String(angle) : angle.toFixed(2);
}

function axisOf(part: Part): Axis {
  return (part.print?.up ?? 'z').slice(-1) as Axis;
}

/** Whether the box around a part fits as it is stored, or turned by a quarter. */
function boxFits(size: Vec3, axis: Axis, { build_volume_mm: volume }: Printer): boolean {
  const vertical = 'xyz'.indexOf(axis);
  const [p, q] = size.filter((_, k) => k !== vertical);
  const [width, depth, height] = volume;
  return (
    size[vertical] <= height &&
    Math.min(p, q) <= Math.min(width, depth) &&
    Math.max(p, q) <= Math.max(width, depth)
  );
}

const downOf: Readonly<Record<Axis, Vec3>> = { x: [-1, 0, 0], y: [0, -1, 0], z: [0, 0, -1] };

/** Cosine of what still counts as along an axis: 1°. */
const along = Math.cos(Math.PI / 180);

function waysOf(part: Part, { features }: PartFacts): Way[] {
  const first = axisOf(part);
  const axes = [first, ...(['x', 'y', 'z'] as const).filter(axis => axis !== first)];
  const ways: Way[] = axes.map(axis => ({ axis, down: downOf[axis] }));
  for (const feature of features) {
    if (feature.kind !== 'plane') continue;
    // The same direction, or the opposite one, takes the same room.
    if (ways.some(({ down }) => Math.abs(dot(down, feature.axis)) >= along)) continue;
    ways.push({ axis: null, down: feature.axis });
  }
  return ways;
}
