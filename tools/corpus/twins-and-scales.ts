import type { Kernel } from '@kinprint/solid';
import {
  buildMesh,
  cuffShell,
  difference,
  cylinder,
  hingeLeaf,
  lugLength,
  moved,
  mirroredX,
  snapClip,
  strapBuckle,
} from '../demo/shapes/index.ts';
import type { CorpusCase } from './case.ts';
import { polygonArea } from './plain-parts.ts';
import { after, mapped, mappedKeepingOrder, motion, scaling } from './transform.ts';

const none = [1, 1, 1] as const;
const otherHand = scaling(-1, 1, 1);

/** Left and right hands, and files that only seem to be. */
export function twinCases(kernel: Kernel): CorpusCase[] {
  const right = buildMesh(kernel, cuffShell());
  const left = buildMesh(kernel, cuffShell({ hand: 'left' }));
  const leftNarrower = buildMesh(kernel, cuffShell({ hand: 'left', hingeBore: 3.0 }));
  const leftOther = buildMesh(kernel, cuffShell({ hand: 'left', hingeBore: 3.6, bossAt: -4 }));
  const elsewhere = motion([0.2, 1, 1], 58, [70, 12, -9]);
  const turnedTwin = after(elsewhere, otherHand);
  const buckle = buildMesh(kernel, strapBuckle());
  const narrower = [{ kind: 'bore', diameter_before_mm: 3.2, diameter_after_mm: 3.0, count: 2 }] as const;
  return [
    {
      name: 'left and right twins',
      before: right,
      after: left,
      expect: {
        verdicts: ['mirrored'],
        alignment: { kinds: ['mirrored'], map: otherHand, mirrored: true, scale: none },
      },
    },
    {
      name: 'left and right twins, moved',
      before: right,
      after: mapped(left, elsewhere),
      expect: {
        verdicts: ['mirrored'],
        alignment: { kinds: ['mirrored'], map: turnedTwin, mirrored: true, scale: none },
      },
    },
    {
      name: 'twin by negative scale, inside out',
      before: right,
      after: mappedKeepingOrder(right, otherHand),
      expect: {
        verdicts: ['mirrored'],
        alignment: { kinds: ['mirrored'], map: otherHand, mirrored: true, scale: none },
      },
    },
    {
      name: 'mirrored, moved and bore narrower',
      before: right,
      after: mapped(leftNarrower, elsewhere),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['mirrored'], map: turnedTwin, mirrored: true, scale: none },
        volume: {
          added_mm3: 2 * lugLength * (polygonArea(3.2, 48) - polygonArea(3.0, 48)),
          removed_mm3: 0,
          relative: 2e-3,
          source: 'closed form: two lugs of 6 mm between regular 48-gons of 3.2 and 3.0 mm',
        },
        changed: narrower,
      },
    },
    {
      name: 'files named left and right that are not mirror images',
      before: right,
      after: leftOther,
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['mirrored'], map: otherHand, mirrored: true, scale: none },
        changed: [{ kind: 'bore', diameter_before_mm: 3.2, diameter_after_mm: 3.6, count: 2 }],
      },
    },
    {
      name: 'a file named left that holds the right hand',
      before: right,
      after: mapped(right, elsewhere),
      expect: {
        verdicts: ['moved'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: none, rotation_deg: 58 },
      },
    },
    {
      name: 'a symmetric part serves both hands',
      before: buckle,
      after: buildMesh(kernel, mirroredX(strapBuckle())),
      expect: {
        verdicts: ['identical', 'same-shape'],
        alignment: { kinds: ['identity'], mirrored: false, scale: none },
      },
    },
    {
      name: 'a symmetric part serves both hands, moved',
      before: buckle,
      after: mapped(buildMesh(kernel, mirroredX(strapBuckle())), motion([0, 0, 1], 0, [0, 40, 0])),
      expect: {
        verdicts: ['moved'],
        alignment: {
          kinds: ['rigid'],
          map: motion([0, 0, 1], 0, [0, 40, 0]),
          mirrored: false,
          scale: none,
          rotation_deg: 0,
        },
      },
    },
  ];
}

/** Whole shapes rescaled, alone or with a change. */
export function scaleCases(kernel: Kernel): CorpusCase[] {
  const clip = buildMesh(kernel, snapClip());
  const leaf = buildMesh(kernel, hingeLeaf());
  const drilled = buildMesh(kernel, difference(hingeLeaf(), moved(cylinder(5, 5, 40), 17, 0, -1)));
  const elsewhere = motion([1, 0.4, -0.8], 49, [-22, 8, 51]);
  const grownTwin = after(elsewhere, scaling(-1.1, 1.1, 1.1));
  const grown = after(elsewhere, scaling(1.2));
  return [
    {
      name: 'rescaled by 1.12',
      before: clip,
      after: mapped(clip, scaling(1.12)),
      expect: {
        verdicts: ['rescaled'],
        alignment: {
          kinds: ['uniform-scale'],
          map: scaling(1.12),
          mirrored: false,
          scale: [1.12, 1.12, 1.12],
        },
      },
    },
    {
      name: 'rescaled by 1.2 and moved',
      before: clip,
      after: mapped(clip, grown),
      expect: {
        verdicts: ['rescaled'],
        alignment: { kinds: ['uniform-scale'], map: grown, mirrored: false, scale: [1.2, 1.2, 1.2] },
      },
    },
    {
      name: 'rescaled by 1.2, moved, and a hole drilled',
      before: leaf,
      after: mapped(drilled, grown),
      expect: {
        verdicts: ['reworked'],
        alignment: { kinds: ['uniform-scale'], map: grown, mirrored: false, scale: [1.2, 1.2, 1.2] },
        volume: {
          added_mm3: 0,
          removed_mm3: 1.2 ** 3 * 3 * polygonArea(5, 40),
          relative: 1e-3,
          source: 'closed form: a regular 40-gon of 5 mm through 3 mm, times 1.2³',
        },
        appeared: [{ kind: 'bore', diameter_mm: 6, count: 1 }],
      },
    },
    {
      name: 'rescaled along one axis',
      before: leaf,
      after: mapped(leaf, scaling(1, 1, 1.1)),
      expect: {
        verdicts: ['rescaled'],
        alignment: { kinds: ['axis-scale'], map: scaling(1, 1, 1.1), mirrored: false, scale: [1, 1, 1.1] },
      },
    },
    {
      name: 'rescaled and mirrored',
      before: clip,
      after: mapped(clip, grownTwin),
      // Curved bands are split into triangles by one diagonal, so the clip is not quite its own mirror image.
      expect: {
        verdicts: ['rescaled'],
        alignment: { kinds: ['uniform-scale'], map: grownTwin, mirrored: true, scale: [1.1, 1.1, 1.1] },
      },
    },
    ...[25.4, 10, 1000].map((factor): CorpusCase => ({
      name: `written in a unit ${factor} times smaller`,
      before: mapped(clip, scaling(1 / factor)),
      after: clip,
      expect: {
        verdicts: ['rescaled'],
        alignment: {
          kinds: ['uniform-scale'],
          map: scaling(factor),
          mirrored: false,
          scale: [factor, factor, factor],
        },
        notes: ['unit-factor'],
      },
    })),
  ];
}
