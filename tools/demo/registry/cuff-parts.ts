import type { Interface, Part, Placement } from '@kinprint/manifest';
import type { Mesh } from '@kinprint/mesh';
import type { Kernel } from '@kinprint/solid';
import { mapped, scaling } from '../../corpus/transform.ts';
import {
  buildMesh,
  cuffShell,
  cuffShellDefaults,
  gripPad,
  hingeAxis,
  hingeLeaf,
  hingeLeafDefaults,
  knuckleDiameter,
  palmRest,
  snapClip,
  socketHeight,
  socketTilt,
  strapBuckle,
  utensilSleeve,
  type CuffShellParams,
  type HingeLeafParams,
  type PalmRestParams,
  type StrapBuckleParams,
} from '../shapes/index.ts';

/** A part as a manifest lists it, with its mesh. */
export interface MadePart {
  readonly part: Part;
  readonly mesh: Mesh;
  /** Of a shell: where the others go. */
  readonly seats?: Seats;
}

/** Where other parts are placed on a shell, in its frame. */
export interface Seats {
  readonly leaf: Omit<Placement, 'part'>;
  readonly sleeve: Omit<Placement, 'part'>;
}

/** A part in two sizes of a family: built for a smaller hand, then scaled, so that held bores come out as declared. */
interface Sized {
  /** The mesh is scaled by this, while bores for bought hardware stay at their size. */
  readonly scale?: number;
}

export function shellPart(kernel: Kernel, params: Partial<CuffShellParams> & Sized = {}): MadePart {
  const { scale = 1, ...given } = params;
  // Of the knuckle above the outside of the band.
  const p = { ...cuffShellDefaults, hingeRise: cuffShellDefaults.wall / 2 + 0.5, ...given };
  const held = {
    hingeBore: p.hingeBore / scale,
    utensilBore: p.utensilBore / scale,
    clampBore: p.clampBore / scale,
  };
  return {
    part: {
      id: 'shell',
      title: 'Cuff shell',
      mesh: 'parts/shell.stl',
      source: ['source/shell.txt'],
      material: 'petg',
      hand: p.hand,
      print: { ...strong, up: 'z', supports: 'build-plate' },
      interfaces: [
        held2('hinge-bore', p.hingeBore, 'hardware/hinge-screw', hingeClass(p.hingeBore)),
        { ...bore('utensil-bore', p.utensilBore), scale: 'hold' },
        { ...bore('clamp-bore', p.clampBore, 'hardware/clamp-screw', 'thread'), scale: 'hold' },
      ],
    },
    mesh: scaled(buildMesh(kernel, cuffShell({ ...p, ...held })), scale),
    seats: seatsOf({ ...p, ...held }, scale),
  };
}

/** The sleeve's foot: 0.8 mm thinner than the socket of 9 mm, so that it slides. */
const spigot = { diameter: 8.2, length: 26 };
/** Where the clamping screw meets the sleeve, from its end. */
const sleeveCrossAt = 15.6;

/** The leaf closes the back of the hand; the sleeve goes into the socket as far as the clamping screw meets its bore. */
function seatsOf(p: CuffShellParams, scale: number): Seats {
  const [hingeX, hingeY] = hingeAxis(p);
  const tilt = (socketTilt * Math.PI) / 180;
  const end = p.bossAt * scale - sleeveCrossAt;
  return {
    leaf: {
      translate_mm: [round(hingeX * scale), round((hingeY - knuckleDiameter / 2) * scale), 0],
      rotate: { axis: [1, 0, 0], degrees: -90 },
    },
    sleeve: {
      translate_mm: [round(end * Math.cos(tilt)), round(socketHeight(p) * scale), round(-end * Math.sin(tilt))],
      rotate: { axis: [0, 1, 0], degrees: 90 + socketTilt },
    },
  };
}

/** To the thousandth of a millimeter, as somebody would write it. */
function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}

/**
 * The parts put together, in the order they are given: the shell as it lies, leaf and sleeve on it. The others go on the
 * strap, or on a handle of their own, and are not placed.
 */
export function placementsOf(parts: readonly MadePart[]): Placement[] {
  const seats = parts.find(made => made.seats !== undefined)?.seats;
  if (seats === undefined) return [];
  return parts.flatMap(({ part: { id } }): Placement[] => {
    if (id === 'shell') return [{ part: id }];
    return id === 'leaf' || id === 'sleeve' ? [{ part: id, ...seats[id] }] : [];
  });
}

/** An M3 screw runs free in 3.2 mm, the series fine of ISO 273; for a bore as wide as itself there is no class. */
function hingeClass(bore_mm: number): Interface['clearance'] {
  return bore_mm > 3.1 ? 'fine' : undefined;
}

export function leafPart(kernel: Kernel, params: Partial<HingeLeafParams> & Sized = {}): MadePart {
  const { scale = 1, ...given } = params;
  // The plate begins beyond the reach of the shell's lugs.
  const p = { ...hingeLeafDefaults, plateFrom: knuckleDiameter / 2 + 0.5, ...given };
  const held = { hingeBore: p.hingeBore / scale, screwHole: p.screwHole / scale };
  return {
    part: {
      id: 'leaf',
      title: 'Hinge leaf',
      mesh: 'parts/leaf.stl',
      material: 'petg',
      hand: 'both',
      print: strong,
      interfaces: [
        { ...bore('hinge-bore', p.hingeBore, 'hardware/hinge-screw', hingeClass(p.hingeBore)), scale: 'hold' },
        held2('strap-screw-holes', p.screwHole, 'hardware/strap-screw', 'medium'),
      ],
    },
    mesh: scaled(buildMesh(kernel, hingeLeaf({ ...p, ...held })), scale),
  };
}

export function bucklePart(kernel: Kernel, params: Partial<StrapBuckleParams> = {}): MadePart {
  return {
    part: {
      id: 'buckle',
      title: 'Strap buckle',
      mesh: 'parts/buckle.stl',
      material: 'petg',
      hand: 'both',
      print: strong,
    },
    mesh: buildMesh(kernel, strapBuckle(params)),
  };
}

export function clipPart(kernel: Kernel, handle = 10): MadePart {
  return {
    part: {
      id: 'clip',
      title: 'Snap clip for a round handle',
      mesh: 'parts/clip.stl',
      material: 'petg',
      hand: 'both',
      print: strong,
      interfaces: [
        { ...bore('handle', handle), scale: 'hold' },
        { ...bore('screw-hole', 3.4, 'hardware/strap-screw', 'medium'), scale: 'hold' },
      ],
    },
    mesh: buildMesh(kernel, snapClip({ handle })),
  };
}

export function sleevePart(kernel: Kernel): MadePart {
  return {
    part: {
      id: 'sleeve',
      title: 'Sleeve for a flat handle',
      mesh: 'parts/sleeve.stl',
      material: 'petg',
      hand: 'both',
      print: { ...strong, walls: 3 },
      interfaces: [
        {
          id: 'spigot',
          kind: 'pin',
          nominal_mm: spigot.diameter,
          tolerance_mm: { plus: 0.1, minus: 0.1 },
          scale: 'hold',
          mates: 'shell/utensil-bore',
          clearance: 'sliding',
        },
        held2('cross-bore', cuffShellDefaults.clampBore, 'hardware/clamp-screw', 'thread'),
      ],
    },
    mesh: buildMesh(kernel, utensilSleeve({ length: 40, spigot, crossAt: sleeveCrossAt })),
  };
}

/** The sleeve with an opening for a flat pen, which says nothing of the socket it is for. */
export function penSleevePart(kernel: Kernel): MadePart {
  const { part } = sleevePart(kernel);
  return {
    part: { ...part, interfaces: [held2('cross-bore', cuffShellDefaults.clampBore, 'hardware/clamp-screw', 'thread')] },
    mesh: buildMesh(kernel, utensilSleeve({ length: 40, spigot, crossAt: sleeveCrossAt, handleWidth: 6.4 })),
  };
}

export function padPart(kernel: Kernel): MadePart {
  return {
    part: {
      id: 'pad',
      title: 'Grip pad',
      mesh: 'parts/pad.3mf',
      material: 'tpu',
      hand: 'both',
      print: { ...strong, walls: 2, infill_percent: 15, notes: 'Print slowly; the material is soft.' },
    },
    mesh: buildMesh(kernel, gripPad()),
  };
}

/** A soft rest whose author allows copies and no changes. */
export function restPart(kernel: Kernel, params: Partial<PalmRestParams> = {}): MadePart {
  return {
    part: {
      id: 'rest',
      title: 'Palm rest',
      mesh: 'parts/rest.stl',
      material: 'tpu',
      hand: 'both',
      license: 'CC-BY-ND-4.0',
      print: { ...strong, walls: 3, infill_percent: 20, notes: 'Print slowly; the material is soft.' },
    },
    mesh: buildMesh(kernel, palmRest(params)),
  };
}

/** The same parts for the other hand. */
export function otherHand({ part, mesh, seats }: MadePart): MadePart {
  const hand = part.hand === 'right' ? 'left' : part.hand === 'left' ? 'right' : part.hand;
  return {
    part: hand === undefined ? part : { ...part, hand },
    mesh: mapped(mesh, scaling(-1, 1, 1)),
    ...(seats === undefined ? {} : { seats: { leaf: mirrored(seats.leaf), sleeve: mirrored(seats.sleeve) } }),
  };
}

/** M (R (M p) + t) for the reflection M in x = 0: what is turned about an axis is turned about −M of it. */
function mirrored({ translate_mm = [0, 0, 0], rotate }: Omit<Placement, 'part'>): Omit<Placement, 'part'> {
  const [x, y, z] = translate_mm;
  const [u, v, w] = rotate?.axis ?? [0, 0, 1];
  return {
    translate_mm: [-x, y, z],
    ...(rotate === undefined ? {} : { rotate: { axis: [u, 0 - v, 0 - w], degrees: rotate.degrees } }),
  };
}

const strong: NonNullable<Part['print']> = {
  layer_height_mm: 0.2,
  walls: 4,
  infill_percent: 30,
  supports: 'none',
  nozzle_mm: 0.4,
  tolerance_mm: 0.2,
};

function bore(id: string, nominal_mm: number, mates?: string, clearance?: Interface['clearance']): Interface {
  const tolerance_mm = { plus: 0.1, minus: 0.1 };
  return {
    id,
    kind: 'bore',
    nominal_mm,
    tolerance_mm,
    ...(mates === undefined ? {} : { mates }),
    ...(clearance === undefined ? {} : { clearance }),
  };
}

/** Two equal bores that do not grow. */
function held2(id: string, nominal_mm: number, mates: string, clearance: Interface['clearance']): Interface {
  return { ...bore(id, nominal_mm, mates, clearance), count: 2, scale: 'hold' };
}

function scaled(mesh: Mesh, scale: number): Mesh {
  return scale === 1 ? mesh : mapped(mesh, scaling(scale, scale, scale));
}
