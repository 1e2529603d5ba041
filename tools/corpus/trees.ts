import type { Kernel } from '@kinprint/solid';
import {
  box,
  buildMesh,
  cuffShell,
  gripPad,
  hingeLeaf,
  intersection,
  moved,
  snapClip,
  strapBuckle,
  utensilSleeve,
} from '../demo/shapes/index.ts';
import type { TreeCase } from './case.ts';
import { bracket } from './plain-parts.ts';
import { mapped, motion, together } from './transform.ts';

/** Folders before and after. */
export function treeCases(kernel: Kernel): TreeCase[] {
  const shell = buildMesh(kernel, cuffShell());
  const shellReworked = buildMesh(kernel, cuffShell({ hingeBore: 3.0 }));
  const clip = buildMesh(kernel, snapClip());
  const buckle = buildMesh(kernel, strapBuckle());
  const leaf = buildMesh(kernel, hingeLeaf());
  const sleeve = buildMesh(kernel, utensilSleeve());
  const whole = buildMesh(kernel, bracket());
  const half = (side: -1 | 1) =>
    buildMesh(kernel, intersection(bracket(), moved(box(40, 60, 80), 22 + side * 20, 0, -20)));
  const elsewhere = motion([1, 1, 0], 80, [10, 90, -4]);
  const plateOf = together(
    mapped(clip, motion([0, 0, 1], 15, [30, 0, 0])),
    mapped(buckle, motion([0, 0, 1], 90, [0, 45, 0])),
  );
  return [
    {
      name: 'renamed, copied, and renamed with a change',
      before: { 'shell.stl': shell, 'clip.stl': clip, 'leaf.stl': leaf },
      after: {
        'cuff/shell-v2.stl': mapped(shellReworked, elsewhere),
        'snap.stl': clip,
        'leaf.stl': leaf,
        'spare/leaf.stl': leaf,
      },
      parts: [
        { before: 'shell.stl', after: 'cuff/shell-v2.stl', pairings: ['shape'], verdicts: ['reworked'] },
        { before: 'clip.stl', after: 'snap.stl', pairings: ['content'], verdicts: ['identical'] },
        { before: 'leaf.stl', after: 'leaf.stl', pairings: ['path'], verdicts: ['identical'] },
        { before: 'leaf.stl', after: 'spare/leaf.stl', pairings: ['copy'], verdicts: ['identical'] },
      ],
    },
    {
      name: 'added and removed',
      before: { 'clip.stl': clip, 'sleeve.stl': sleeve },
      after: { 'clip.stl': clip, 'pad.stl': buildMesh(kernel, gripPad()) },
      parts: [
        { before: 'clip.stl', after: 'clip.stl', pairings: ['path'], verdicts: ['identical'] },
        { before: 'sleeve.stl', after: null, pairings: ['removed'], verdicts: ['removed'] },
        { before: null, after: 'pad.stl', pairings: ['added'], verdicts: ['added'] },
      ],
    },
    {
      name: 'two parts gathered onto a plate',
      before: { 'clip.stl': clip, 'buckle.stl': buckle, 'leaf.stl': leaf },
      after: { 'plate.stl': plateOf, 'leaf.stl': leaf },
      parts: [
        { before: 'leaf.stl', after: 'leaf.stl', pairings: ['path'], verdicts: ['identical'] },
        { before: 'clip.stl', after: 'plate.stl', pairings: ['gathered'], verdicts: ['moved'] },
        { before: 'buckle.stl', after: 'plate.stl', pairings: ['gathered'], verdicts: ['moved'] },
      ],
    },
    {
      name: 'a plate taken apart into two files',
      before: { 'plate.stl': plateOf },
      after: { 'clip.stl': clip, 'buckle.stl': buckle },
      parts: [
        { before: 'plate.stl', after: 'clip.stl', pairings: ['split'], verdicts: ['moved'] },
        { before: 'plate.stl', after: 'buckle.stl', pairings: ['split'], verdicts: ['moved'] },
      ],
    },
    {
      name: 'one body cut in two, each half in its own file',
      before: { 'bracket.stl': whole },
      after: { 'bracket-a.stl': half(-1), 'bracket-b.stl': mapped(half(1), elsewhere) },
      parts: [
        {
          before: 'bracket.stl',
          after: 'bracket-a.stl',
          pairings: ['split', 'shape'],
          verdicts: ['reworked'],
        },
        {
          before: 'bracket.stl',
          after: 'bracket-b.stl',
          pairings: ['split', 'shape', 'added'],
          verdicts: ['reworked', 'added'],
        },
      ],
    },
  ];
}
