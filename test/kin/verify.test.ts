import { verifyKin } from '@kinprint/registry';
import { loadKernel } from '@kinprint/solid';
import { describe, expect, it } from 'vitest';
import { cases } from '../../tools/corpus/index.ts';
import {
  buildMesh,
  cuffShell,
  gripPad,
  hingeLeaf,
  snapClip,
  strapBuckle,
  utensilSleeve,
} from '../../tools/demo/shapes/index.ts';

const kernel = await loadKernel();
const unlike = Object.entries({
  shell: cuffShell(),
  pad: gripPad(),
  leaf: hingeLeaf(),
  clip: snapClip(),
  buckle: strapBuckle(),
  sleeve: utensilSleeve(),
}).map(([name, solid]) => ({ name, mesh: buildMesh(kernel, solid) }));
const pairs = unlike.flatMap(a =>
  unlike.filter(b => b !== a).map(b => [a.name, b.name, a.mesh, b.mesh] as const),
);

/** What a case of the corpus is to kin: verdicts that mean the same shape, and those of something changed. */
const same = new Set(['identical', 'same-shape', 'moved', 'mirrored', 'rescaled']);

describe('verifyKin', () => {
  it.each(pairs)('finds nothing in common between %s and %s', (_a, _b, a, b) => {
    expect(verifyKin(a, b)).toBeNull();
  });

  it.each(cases(kernel).map(item => [item.name, item] as const))(
    'agrees with what is true: %s',
    (_, item) => {
      const { verdicts, alignment } = item.expect;
      const found = verifyKin(item.before, item.after);
      if (verdicts.includes('replaced') || alignment?.kinds.includes('axis-scale') === true) {
        // Stretched along one axis alone, any block is any other: no kin.
        expect(found).toBeNull();
        return;
      }
      if (found === null) throw new Error('not found to be kin');
      if (alignment !== undefined) {
        expect(found.mirrored).toBe(alignment.mirrored);
        const factor = alignment.scale?.[0] ?? 1;
        expect(found.scale / factor).toBeCloseTo(1, 3);
      }
      // Where the corpus gives a tolerance of its own, other chords are the same shape within that one only.
      if (item.tolerance_mm !== undefined) return;
      const words = verdicts.map(v => (v === 'identical' ? 'same-shape' : v));
      if (verdicts.every(v => same.has(v))) expect(words).toContain(found.relation);
      if (verdicts.every(v => v === 'reworked')) expect(found.relation).toBe('reworked');
    },
  );
});
