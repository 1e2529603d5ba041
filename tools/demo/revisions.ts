import { writeStlBinary, writeThreeMf, type Mesh } from '@kinprint/mesh';
import type { Kernel } from '@kinprint/solid';
import { mapped, mappedKeepingOrder, motion, scaling, together } from '../corpus/transform.ts';
import {
  buildMesh,
  cuffShell,
  gripPad,
  hingeLeaf,
  refined,
  snapClip,
  strapBuckle,
  utensilSleeve,
  type CuffShellParams,
  type Solid,
} from './shapes/index.ts';

/** One state of the demo's parts folder. */
export interface Revision {
  readonly tag: string;
  readonly author: string;
  /** ISO 8601 with offset, so that the commit is the same on every machine. */
  readonly date: string;
  readonly message: string;
  /** Every file of this state, path to bytes. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

const otherHand = scaling(-1, 1, 1);

/**
 * Three revisions of a utensil cuff's meshes, as an invented lending group of families would make them:
 *
 * - A: the first set, for a palm of 58 mm.
 * - B: hinge bores 3.2 → 3.0 mm, clamping boss 2 mm further out; the shell exported elsewhere and turned; its left
 *   twin made by a negative scale, so inside out; buckle saved with split facets; sleeve renamed; clip untouched.
 * - C: grown to a palm of 62 mm with a rib; buckle in finer chords gathered with the sleeve onto one plate; clip given
 *   up; a grip pad added.
 */
export function revisions(kernel: Kernel): Revision[] {
  const build = (solid: Solid): Mesh => buildMesh(kernel, solid);
  const shells = (params: Partial<CuffShellParams>): { right: Mesh; left: Mesh } => ({
    right: build(cuffShell(params)),
    left: build(cuffShell({ ...params, hand: 'left' })),
  });
  const first = shells({});
  const second = shells({ hingeBore: 3.0, bossAt: 7 });
  const third = shells({ hingeBore: 3.0, bossAt: 7, palmBreadth: 62, rib: true });
  const exportedElsewhere = motion([1, 0.35, 0.2], 96, [110, -42, 18]);
  const clip = build(snapClip());
  const sleeve = build(utensilSleeve());
  const leaf = build(hingeLeaf({ hingeBore: 3.0 }));
  const plate = together(
    mapped(sleeve, motion([1, 0, 0], 90, [-18, 19, 8])),
    mapped(build(strapBuckle({ segments: 96 })), motion([0, 0, 1], 90, [14, 0, 0])),
  );
  const files = (parts: Readonly<Record<string, Mesh>>, note: string): Map<string, Uint8Array> =>
    new Map([
      [
        'README.md',
        new TextEncoder().encode(
          `# Utensil cuff meshes\n\n${note}\n\nAn invented set of parts for trying kinprint. Not a device to be used.\n`,
        ),
      ],
      ...Object.entries(parts).map(([path, mesh]): [string, Uint8Array] => [path, bytesFor(path, mesh)]),
    ]);

  return [
    {
      tag: 'rev-A',
      author: 'Mira Oakfield <mira@example.org>',
      date: '2024-02-03T10:00:00+01:00',
      message: 'First set of cuff parts, palm 58 mm',
      files: files(
        {
          'parts/hinge-leaf.stl': build(hingeLeaf()),
          'parts/shell-left.stl': first.left,
          'parts/shell-right.stl': first.right,
          'parts/snap-clip.stl': clip,
          'parts/strap-buckle.stl': build(strapBuckle()),
          'parts/utensil-sleeve.stl': sleeve,
        },
        'Palm breadth 58 mm, M3 hinge with 3.2 mm bores.',
      ),
    },
    {
      tag: 'rev-B',
      author: 'Teo Lindqvale <teo@example.org>',
      date: '2024-05-18T16:30:00+02:00',
      message: 'Hinge without play; boss clear of the thumb',
      files: files(
        {
          'parts/hinge-leaf.stl': leaf,
          'parts/shell-left.stl': mappedKeepingOrder(second.right, otherHand),
          'parts/shell-right.stl': mapped(second.right, exportedElsewhere),
          'parts/sleeve-flat-handle.stl': sleeve,
          'parts/snap-clip.stl': clip,
          'parts/strap-buckle.stl': build(refined(strapBuckle(), 2)),
        },
        'Palm breadth 58 mm, hinge bores 3.0 mm.',
      ),
    },
    {
      tag: 'rev-C',
      author: 'Mira Oakfield <mira@example.org>',
      date: '2024-09-07T09:15:00+02:00',
      message: 'Grown to a palm of 62 mm, stiffer; small parts on one plate',
      files: files(
        {
          'parts/grip-pad.3mf': build(gripPad()),
          'parts/hinge-leaf.stl': build(hingeLeaf({ hingeBore: 3.0, length: 34 })),
          'parts/plate-small-parts.stl': plate,
          'parts/shell-left.stl': third.left,
          'parts/shell-right.stl': third.right,
        },
        'Palm breadth 62 mm, hinge bores 3.0 mm, rib on the band.',
      ),
    },
  ];
}

function bytesFor(path: string, mesh: Mesh): Uint8Array {
  if (!path.endsWith('.3mf')) return writeStlBinary(mesh);
  return writeThreeMf([{ name: path.slice(path.lastIndexOf('/') + 1, -4), mesh }]);
}
