import type { Kernel } from '@kinprint/solid';
import { buildMesh, snapClip, strapBuckle, utensilSleeve } from '../demo/shapes/index.ts';
import type { CorpusCase } from './case.ts';
import { bracket } from './plain-parts.ts';
import { mapped, motion, together } from './transform.ts';

const shift = (x: number, y: number) => motion([0, 0, 1], 0, [x, y, 0]);

/** Files that hold several bodies. */
export function bodyCases(kernel: Kernel): CorpusCase[] {
  const clip = buildMesh(kernel, snapClip());
  const buckle = buildMesh(kernel, strapBuckle());
  const sleeve = buildMesh(kernel, utensilSleeve());
  const sleeveNarrow = buildMesh(kernel, utensilSleeve({ handleWidth: 5 }));
  const plain = buildMesh(kernel, bracket());
  const plate = together(
    plain,
    mapped(clip, shift(0, 40)),
    mapped(buckle, shift(50, 0)),
    mapped(sleeve, shift(50, 40)),
  );
  const elsewhere = motion([0, 1, 1], 35, [9, -14, 60]);
  const rearranged = (last: typeof sleeve): typeof plate =>
    together(
      mapped(last, motion([0, 0, 1], 30, [-40, 60, 0])),
      mapped(buckle, motion([0, 0, 1], 90, [60, 70, 0])),
      mapped(clip, motion([0, 0, 1], -45, [-50, 10, 0])),
      plain,
    );
  return [
    {
      name: 'plate with bodies rearranged',
      before: plate,
      after: rearranged(sleeve),
      expect: { verdicts: ['reworked', 'moved'], bodies: ['identical', 'moved', 'moved', 'moved'] },
    },
    {
      name: 'plate with bodies rearranged and one reworked',
      before: plate,
      after: rearranged(sleeveNarrow),
      expect: { verdicts: ['reworked'], bodies: ['identical', 'moved', 'moved', 'reworked'] },
    },
    {
      name: 'plate moved as a whole',
      before: plate,
      after: mapped(plate, elsewhere),
      expect: {
        verdicts: ['moved'],
        alignment: { kinds: ['rigid'], map: elsewhere, mirrored: false, scale: [1, 1, 1], rotation_deg: 35 },
      },
    },
    {
      name: 'one body dropped from a plate',
      before: plate,
      after: together(plain, mapped(clip, shift(0, 40)), mapped(sleeve, shift(50, 40))),
      expect: { verdicts: ['reworked'], bodies: ['identical', 'identical', 'identical', 'removed'] },
    },
    {
      name: 'one body added to a plate',
      before: together(plain, mapped(clip, shift(0, 40))),
      after: together(plain, mapped(clip, shift(0, 40)), mapped(sleeve, shift(50, 40))),
      expect: { verdicts: ['reworked'], bodies: ['added', 'identical', 'identical'] },
    },
  ];
}
