import { afterAll, describe, expect, it } from 'vitest';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { runCli } from '../support/run-cli.ts';
import { one, plate, shell, solid } from './planted.ts';
import { check } from './support.ts';

afterAll(removeTemporaryFolders);

describe('kinprint check', () => {
  it('has one line to say of a registry without mistakes', async () => {
    const { exit, report, text } = await check(one(shell));
    expect({ exit, findings: report.findings }).toEqual({ exit: 0, findings: [] });
    expect(text).toBe('No findings in 1 variant with 1 part.\n');
  });

  it('shows the line, a caret, what to do, and the total', async () => {
    const { text, exit } = await check(
      one(`${shell}    interfaces:\n      - { id: pivot, kind: bore, nominal_mm: 3.2 }\n`, plate),
    );
    expect(exit).toBe(1);
    expect(text).toBe(
      `cuff/left
  error  interface-differs  part shell
    devices/cuff/left/variant.yaml:10:46
    10 |       - { id: pivot, kind: bore, nominal_mm: 3.2 }
       |                                              ^
    The bore 'pivot' is declared 3.20 mm ± 0.1 and measured 3.00 mm across the
    flats (3.00 through the corners), at (10.0, 10.0, 2.5) mm.
    Correct the manifest or the mesh, or state the tolerance_mm that the
    interface bears.

1 error in 1 variant with 1 part.
`,
    );
  });

  it('fails on warnings when asked to', async () => {
    const registry = one(shell);
    registry.write('devices/cuff/left/parts/spare.stl', solid);
    expect((await check(registry)).exit).toBe(0);
    expect((await check(registry, '--fail-on', 'warning')).exit).toBe(1);
  });

  it('checks the variants that are named, and suggests names for unknown ones', async () => {
    const registry = one(shell);
    registry.variant('right', shell);
    const { report, exit } = await check(registry, 'cuff/left');
    expect({ exit, findings: report.findings, variants: report.variants }).toEqual({
      exit: 0,
      findings: [],
      variants: 1,
    });
    expect((await check(registry)).exit).toBe(1);
    const { code, err } = await runCli(['check', '--no-cache', 'cuff/lef'], registry.folder);
    expect(code).toBe(2);
    expect(err).toContain("Did you mean 'cuff/left'");
    expect((await runCli(['check', '--shard', '3/2'], registry.folder)).code).toBe(2);
    expect((await runCli(['check', '--shard', '1/2', 'cuff/left'], registry.folder)).code).toBe(2);
  });
});
