import type { Kernel } from '@kinprint/solid';
import {
  box,
  buildMesh,
  cuffShell,
  cylinder,
  difference,
  moved,
  refined,
  snapClip,
  strapBuckle,
} from '../demo/shapes/index.ts';
import type { CorpusCase } from './case.ts';
import { bracket } from './plain-parts.ts';
import { mapped, motion, shuffled, stay } from './transform.ts';

const none = [1, 1, 1] as const;

/** Parts that did not change, however different their files. */
export function sameShapeCases(kernel: Kernel): CorpusCase[] {
  const shell = buildMesh(kernel, cuffShell());
  const elsewhere = motion([-2, 1, 0.7], 112, [-30, 64, 18]);
  const clip = buildMesh(kernel, snapClip());
  const plainBox = buildMesh(kernel, box(20, 30, 50));
  const cube = buildMesh(kernel, box(20, 20, 20));
  const washer = buildMesh(kernel, difference(cylinder(12, 2, 64), moved(cylinder(6.4, 4, 64), 0, 0, -1)));
  const unchanged = { added_mm3: 0, removed_mm3: 0, relative: 0, source: 'the same surface' };
  return [
    {
      name: 'the same triangles in another order',
      before: shell,
      after: shuffled(shell, 11),
      expect: {
        verdicts: ['identical'],
        alignment: { kinds: ['identity'], map: stay, mirrored: false, scale: none },
        volume: unchanged,
        regions: { added: 0, removed: 0 },
      },
    },
    {
      name: 'moved only',
      before: shell,
      after: shuffled(mapped(shell, elsewhere), 3),
      expect: {
        verdicts: ['moved'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 112 },
        regions: { added: 0, removed: 0 },
      },
    },
    {
      name: 'finer chords within the tolerance given',
      before: buildMesh(kernel, strapBuckle()),
      after: buildMesh(kernel, strapBuckle({ segments: 96 })),
      tolerance_mm: 0.05,
      expect: {
        verdicts: ['same-shape'],
        alignment: { kinds: ['identity'], map: stay, mirrored: false, scale: none },
      },
    },
    {
      name: 'finer chords within the tolerance given, moved',
      before: buildMesh(kernel, bracket({ segments: 36 })),
      after: mapped(buildMesh(kernel, bracket({ segments: 80 })), elsewhere),
      tolerance_mm: 0.05,
      expect: {
        verdicts: ['moved'],
        alignment: { kinds: ['rigid'], map: elsewhere, within_mm: 0.1, mirrored: false, scale: none },
      },
    },
    {
      name: 'facets split, surface unchanged',
      before: clip,
      after: buildMesh(kernel, refined(snapClip(), 1.5)),
      expect: {
        verdicts: ['same-shape'],
        alignment: { kinds: ['identity'], map: stay, mirrored: false, scale: none },
      },
    },
    {
      name: 'box shifted',
      before: plainBox,
      after: mapped(plainBox, motion([0, 0, 1], 0, [5, 0, 0])),
      expect: {
        verdicts: ['moved'],
        alignment: {
          kinds: ['rigid'],
          map: motion([0, 0, 1], 0, [5, 0, 0]),
          mirrored: false,
          scale: none,
          rotation_deg: 0,
        },
      },
    },
    {
      name: 'cube given a quarter turn',
      before: cube,
      after: mapped(cube, motion([0, 0, 1], 90, [0, 0, 0])),
      expect: {
        verdicts: ['identical', 'same-shape'],
        alignment: { kinds: ['identity'], map: stay, mirrored: false, scale: none, rotation_deg: 0 },
      },
    },
    {
      name: 'washer tipped over',
      before: washer,
      after: mapped(washer, motion([1, 0, 0], 37, [3, 4, 5])),
      expect: {
        verdicts: ['moved'],
        alignment: {
          kinds: ['rigid'],
          map: motion([1, 0, 0], 37, [3, 4, 5]),
          mirrored: false,
          scale: none,
          rotation_deg: 37,
        },
      },
    },
    {
      name: 'box and ball of one volume',
      before: cube,
      after: buildMesh(kernel, { op: 'ball', radius: Math.cbrt((3 * 8000) / (4 * Math.PI)), segments: 64 }),
      expect: { verdicts: ['replaced'], alignment: { kinds: ['none'], mirrored: false } },
    },
    {
      name: 'clip and buckle',
      before: clip,
      after: buildMesh(kernel, strapBuckle()),
      expect: { verdicts: ['replaced'], alignment: { kinds: ['none'], mirrored: false } },
    },
  ];
}
