import { readDocument } from '@kinprint/manifest';
import { describe, expect, it } from 'vitest';
import { variantHead } from '../../testing/small-registry.ts';
import { meshFindings } from './meshes.ts';

describe('meshFindings', () => {
  it('tells a fault of the program in one line, at the part it failed on', () => {
    const text = `${variantHead}parts:\n  - id: shell\n    mesh: parts/shell.stl\n  - id: strap\n    mesh: parts/strap.stl\n`;
    const document = readDocument('variant', text, 'devices/cuff/left/variant.yaml');
    if (document.value === null) throw new Error(JSON.stringify(document.problems));
    const variant = {
      address: 'cuff/left',
      device: 'cuff',
      variant: 'left',
      folder: 'devices/cuff/left',
      document,
      files: [],
    };
    const looks = [null, { state: 'failed', text: 'Error: out of memory\n    at here' }] as const;
    expect(meshFindings(variant, document.value, looks)).toMatchObject([
      {
        code: 'check-failed',
        severity: 'error',
        part: 'strap',
        line: 10,
        text: "The program failed on 'parts/strap.stl': Error: out of memory",
      },
    ]);
  });
});
