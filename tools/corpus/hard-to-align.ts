import type { Mesh, Vec3 } from '@kinprint/mesh';
import type { Kernel } from '@kinprint/solid';
import {
  box,
  buildMesh,
  cylinder,
  difference,
  hingeLeaf,
  moved,
  turnedX,
  union,
  type Solid,
} from '../demo/shapes/index.ts';
import type { CorpusCase } from './case.ts';
import { polygonArea } from './plain-parts.ts';
import { after, mapped, mapPoint, motion, scaling, stay } from './transform.ts';

const none = [1, 1, 1] as const;

/** A plate that is symmetric save for one pinhole. */
function pinholePlate(pinhole: boolean): Solid {
  const hole = (diameter: number, x: number, y: number): Solid => moved(cylinder(diameter, 7, 24), x, y, -1);
  const plain = difference(
    box(60, 40, 5),
    hole(8, 0, 0),
    hole(4, 24, 14),
    hole(4, -24, 14),
    hole(4, 24, -14),
    hole(4, -24, -14),
  );
  return pinhole ? difference(plain, hole(1.2, 17, 6)) : plain;
}

/** A pebble without a single plane or bore; `tilt` turns its triangulation, not its shape. */
function pebble(kernel: Kernel, segments: number, tilt: number): Solid {
  const ball = mapped(
    buildMesh(kernel, { op: 'ball', radius: 1, segments }),
    motion([1, 2, 3], tilt, [0, 0, 0]),
  );
  const positions = new Float32Array(ball.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const direction: Vec3 = [ball.positions[i], ball.positions[i + 1], ball.positions[i + 2]];
    const [x, y, z] = direction;
    const radius = 20 * (1 + 0.09 * Math.sin(2 * x + 1) * Math.cos(3 * y) + 0.05 * Math.sin(4 * z + 2 * x));
    positions.set(mapPoint(scaling(radius, 0.8 * radius, 0.6 * radius), direction), i);
  }
  const mesh: Mesh = { positions, triangles: ball.triangles };
  return { op: 'mesh', mesh };
}

/** A stud on the pebble's upper side. */
function stud(part: Solid): Solid {
  return union(part, moved(turnedX(cylinder(5, 8, 32), 20), 6, 3, 8));
}

/** Pairs whose alignment has little to hold on to. */
export function hardToAlignCases(kernel: Kernel): CorpusCase[] {
  const elsewhere = motion([0.4, -1, 0.3], 127, [64, -8, 39]);
  const plate = buildMesh(kernel, pinholePlate(true));
  const halfTurn = motion([0, 0, 1], 180, [0, 0, 0]);
  const smooth = pebble(kernel, 96, 0);
  const smoothMesh = buildMesh(kernel, smooth);
  const finer = pebble(kernel, 120, 41);
  const leaf = buildMesh(kernel, hingeLeaf());
  const grown = after(elsewhere, scaling(1.15));
  const grownLeaf = mapped(buildMesh(kernel, hingeLeaf({ segments: 64, hingeBore: 2.6 })), grown);
  return [
    {
      name: 'nearly symmetric plate, half a turn in place',
      before: plate,
      after: mapped(plate, halfTurn),
      expect: {
        verdicts: ['moved'],
        alignment: { kinds: ['rigid'], map: halfTurn, mirrored: false, scale: none, rotation_deg: 180 },
      },
    },
    {
      name: 'nearly symmetric plate, moved',
      before: plate,
      after: mapped(plate, elsewhere),
      expect: {
        verdicts: ['moved'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 127 },
      },
    },
    {
      name: 'symmetric plate that gained a pinhole',
      before: buildMesh(kernel, pinholePlate(false)),
      after: plate,
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['identity'], map: stay, mirrored: false, scale: none, rotation_deg: 0 },
        volume: {
          added_mm3: 0,
          removed_mm3: 5 * polygonArea(1.2, 24),
          relative: 1e-4,
          source: 'closed form: a regular 24-gon of 1.2 mm through 5 mm',
        },
        appeared: [{ kind: 'bore', diameter_mm: 1.2, count: 1 }],
      },
    },
    {
      name: 'pebble without planes, moved, a stud added',
      before: smoothMesh,
      after: mapped(buildMesh(kernel, stud(smooth)), elsewhere),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 127 },
        regions: { added: 1, removed: 0 },
      },
    },
    {
      name: 'pebble without planes, other facets, moved',
      before: smoothMesh,
      after: mapped(buildMesh(kernel, finer), elsewhere),
      tolerance_mm: 0.05,
      expect: {
        verdicts: ['moved'],
        alignment: { kinds: ['rigid'], map: elsewhere, within_mm: 0.1, mirrored: false, scale: none },
      },
    },
    {
      name: 'pebble without planes, other facets, moved, a stud added',
      before: smoothMesh,
      after: mapped(buildMesh(kernel, stud(finer)), elsewhere),
      tolerance_mm: 0.05,
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['rigid'], map: elsewhere, within_mm: 0.1, mirrored: false, scale: none },
      },
    },
    {
      name: 'rescaled by 1.15, other facets, moved, bore narrower',
      before: leaf,
      after: grownLeaf,
      tolerance_mm: 0.03,
      expect: {
        verdicts: ['reworked'],
        alignment: {
          kinds: ['uniform-scale'],
          map: grown,
          within_mm: 0.06,
          mirrored: false,
          scale: [1.15, 1.15, 1.15],
        },
      },
    },
  ];
}
