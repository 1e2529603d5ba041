import type { Interface, Part } from '@kinprint/manifest';
import type { Mesh } from '@kinprint/mesh';
import type { Kernel } from '@kinprint/solid';
import { mapped, scaling } from '../../corpus/transform.ts';
import {
  buildMesh,
  cuffShell,
  cuffShellDefaults,
  gripPad,
  hingeLeaf,
  hingeLeafDefaults,
  palmRest,
  snapClip,
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
}

/** A part in two sizes of a family: built for a smaller hand, then scaled, so that held bores come out as declared. */
interface Sized {
  /** The mesh is scaled by this, while bores for bought hardware stay at their size. */
  readonly scale?: number;
}

export function shellPart(kernel: Kernel, params: Partial<CuffShellParams> & Sized = {}): MadePart {
  const { scale = 1, ...given } = params;
  const p = { ...cuffShellDefaults, ...given };
  const held = {
    hingeBore: p.hingeBore / scale,
    utensilBore: p.utensilBore / scale,
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
        held2('hinge-bore', p.hingeBore, 'hardware/hinge-screw'),
        { ...bore('utensil-bore', p.utensilBore), scale: 'hold' },
      ],
    },
    mesh: scaled(buildMesh(kernel, cuffShell({ ...p, ...held })), scale),
  };
}

export function leafPart(kernel: Kernel, params: Partial<HingeLeafParams> & Sized = {}): MadePart {
  const { scale = 1, ...given } = params;
  const p = { ...hingeLeafDefaults, ...given };
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
        { ...bore('hinge-bore', p.hingeBore, 'hardware/hinge-screw'), scale: 'hold' },
        held2('strap-screw-holes', p.screwHole, 'hardware/strap-screw'),
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
        { ...bore('screw-hole', 3.4, 'hardware/strap-screw'), scale: 'hold' },
      ],
    },
    mesh: buildMesh(kernel, snapClip({ handle })),
  };
}

export function sleevePart(kernel: Kernel, handleWidth = 5.6): MadePart {
  return {
    part: {
      id: 'sleeve',
      title: 'Sleeve for a flat handle',
      mesh: 'parts/sleeve.stl',
      material: 'petg',
      hand: 'both',
      print: { ...strong, walls: 3 },
      interfaces: [held2('cross-bore', 2.6, 'hardware/clamp-screw')],
    },
    mesh: buildMesh(kernel, utensilSleeve({ handleWidth })),
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
export function otherHand({ part, mesh }: MadePart): MadePart {
  const hand = part.hand === 'right' ? 'left' : part.hand === 'left' ? 'right' : part.hand;
  return { part: hand === undefined ? part : { ...part, hand }, mesh: mapped(mesh, scaling(-1, 1, 1)) };
}

const strong: NonNullable<Part['print']> = {
  layer_height_mm: 0.2,
  walls: 4,
  infill_percent: 30,
  supports: 'none',
  nozzle_mm: 0.4,
  tolerance_mm: 0.2,
};

function bore(id: string, nominal_mm: number, mates?: string): Interface {
  const tolerance_mm = { plus: 0.1, minus: 0.1 };
  return { id, kind: 'bore', nominal_mm, tolerance_mm, ...(mates === undefined ? {} : { mates }) };
}

/** Two equal bores that do not grow. */
function held2(id: string, nominal_mm: number, mates: string): Interface {
  return { ...bore(id, nominal_mm, mates), count: 2, scale: 'hold' };
}

function scaled(mesh: Mesh, scale: number): Mesh {
  return scale === 1 ? mesh : mapped(mesh, scaling(scale, scale, scale));
}
