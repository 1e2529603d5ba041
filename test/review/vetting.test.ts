import { afterAll, describe, expect, it } from 'vitest';
import { box } from '../../packages/mesh/src/testing/shapes.ts';
import type { SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { review, twoStates } from './support.ts';

afterAll(removeTemporaryFolders);

const shell =
  'license: CC0-1.0\nauthors:\n  - name: Kim Sample\nparts:\n  - id: shell\n    mesh: parts/shell.stl\n';
const file = 'vetting/cuff/left/A/clinician.yaml';
const signoff = (digest: string, decision: string): string =>
  `kinprint: signoff/1\ndigest: ${digest}\nrevision: cuff/left@A\nrole: clinician\nby: Kim Sample\ndate: 2026-03-14\ndecision: ${decision}\nstatement: Looked at fit and edges.\n`;
const left = (r: SmallRegistry, size = 20): void =>
  r.variant('left', shell, { 'shell.stl': box(size, 30, 10) });

/** What the content of `left` is before anybody changes it. */
async function digestBefore(): Promise<string> {
  const { review: answer } = await review(twoStates(left, r => left(r, 21)));
  return answer.variants[0].digest.before ?? '';
}

describe('the vetting of what a change brings', () => {
  it('a sign-off that lapses is in the answer', async () => {
    const digest = await digestBefore();
    const registry = twoStates(
      r => {
        left(r);
        r.write(file, signoff(digest, 'accept'));
      },
      r => left(r, 21),
    );
    const { review: answer, text } = await review(registry);
    expect(answer.findings.map(({ code }) => code)).toContain('sign-off-lapses');
    expect(text.replace(/\s+/g, ' ')).toContain('1 sign-off lapses.');
  });

  it('a sign-off that cannot be read is never a clear answer', async () => {
    const registry = twoStates(
      r => {
        left(r);
        r.write(file, signoff(`sha256:${'0'.repeat(64)}`, 'accepted'));
      },
      r => left(r, 20.01),
    );
    const { review: answer } = await review(registry);
    expect(answer.decision).not.toBe('clear');
    expect(answer.findings).toContainEqual(
      expect.objectContaining({ code: 'vetting-unread', severity: 'ask', file, variant: 'cuff/left' }),
    );
    expect(answer.variants[0].vetting_unread).toEqual([file]);
  });

  it('a broken sign-off that comes with a change is told where it is broken', async () => {
    const registry = twoStates(left, r => r.write(file, signoff(`sha256:${'0'.repeat(64)}`, 'accepted')));
    const { review: answer, exit } = await review(registry);
    expect(answer.findings).toContainEqual(
      expect.objectContaining({ origin: 'check', code: 'unknown-value', file, line: 7, blocks: true }),
    );
    expect(exit).toBe(1);
  });
});
