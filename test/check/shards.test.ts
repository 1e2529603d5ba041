import type { Finding } from '@kinprint/registry';
import { afterAll, describe, expect, it } from 'vitest';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { check } from './support.ts';

afterAll(removeTemporaryFolders);

describe('shards', () => {
  it('find together exactly what the whole check finds', async () => {
    const registry = smallRegistry('materials:\n  - id: petg\n    density_g_cm3: 1.27\n');
    registry.write('devices/spoon/device.yaml', 'kinprint: device/1\ntitle: Spoon\npurpose: Eating.\n');
    registry.write('devices/cuff/stray/notes.txt', 'no manifest');
    for (let k = 0; k < 12; k++)
      registry.variant(
        `size-${k}`,
        `derivations:\n  - { from: cuff/size-${(k + 1) % 3}@A, relation: remix }\nparts:\n  - id: shell\n    mesh: parts/shell.stl\n    material: ${k % 2 === 0 ? 'petg' : 'wood'}\n`,
        { 'shell.stl': box(20, 30, 10 + (k % 4)) },
      );
    const whole = await check(registry);
    expect(whole.report.whole).toBe(true);
    const codes = new Set(whole.report.findings.map(f => f.code));
    for (const code of [
      'material-unknown',
      'same-content',
      'device-empty',
      'derivation-circle',
      'manifest-missing',
    ])
      expect(codes).toContain(code);

    for (const of of [1, 2, 5]) {
      const shards = [];
      for (let index = 1; index <= of; index++)
        shards.push(await check(registry, '--shard', `${index}/${of}`));
      const found = shards.flatMap(s => s.report.findings);
      const text = (findings: readonly Finding[]) => findings.map(f => JSON.stringify(f)).sort();
      expect(text(found)).toEqual(text(whole.report.findings));
      expect(shards.reduce((sum, s) => sum + s.report.variants, 0)).toBe(12);
      expect(shards.map(s => s.report.whole)).toEqual(shards.map((_, k) => k === 0));
      expect(
        shards.every((s, k) => (k === 0) === s.text.replace(/\s+/g, ' ').includes('with what concerns')),
      ).toBe(true);
    }
  });
});
