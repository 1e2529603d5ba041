import { afterAll, describe, expect, it } from 'vitest';
import { removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { one, revision, shell } from './planted.ts';
import { check, expectOnly } from './support.ts';

afterAll(removeTemporaryFolders);

const file = 'vetting/cuff/left/A/clinician.yaml';
const signoff = (digest = '1', more = 'decision: accept\nstatement: Looked at fit and edges.\n'): string =>
  `kinprint: signoff/1\ndigest: sha256:${digest.repeat(64)}\nrevision: cuff/left@A\nrole: clinician\nby: Kim Sample\ndate: 2026-03-14\n${more}`;
const registry = (text: string, path = file) => {
  const made = one(`${shell}revisions:\n${revision('A', '1')}`);
  made.write(path, text);
  return made;
};
const ownState = 'changed-since';

describe('planted mistakes in sign-offs and evidence', () => {
  it('a sign-off that is as it should be has no finding', async () => {
    const { report } = await check(registry(signoff()));
    expect(report.findings.map(({ code }) => code)).toEqual([ownState]);
  });

  it.each([
    [signoff('1', 'decision: accepted\nstatement: Looked at it.\n'), 'unknown-value', 'decision: accepted'],
    [signoff('1', 'decision: accept\n'), 'missing-key', 'kinprint: signoff/1'],
    ['garbage: [', 'yaml-syntax', null],
    [signoff().replace('signoff/1', 'evidence/1'), null, null],
    ['a: 1\n', null, null],
  ])('one that cannot be read: %j', async (text, code, line) => {
    const { report, exit } = await check(registry(text));
    const found = report.findings.filter(each => each.code !== ownState);
    expect(found.length).toBeGreaterThan(0);
    for (const each of found) expect(each).toMatchObject({ severity: 'error', file, variant: 'cuff/left' });
    if (code !== null) expect(found.map(each => each.code)).toContain(code);
    if (line !== null) expect(found.map(({ source }) => source?.trim())).toContain(line);
    expect(exit).toBe(1);
    const named = await check(registry(text), 'cuff/left');
    expect(named.report.findings.filter(each => each.code !== ownState)).toEqual(found);
  });

  it('a sign-off for another content', async () => {
    await expectOnly(
      registry(signoff('2')),
      {
        code: 'vetting-digest-differs',
        severity: 'error',
        file,
        line: `digest: sha256:${'2'.repeat(64)}`,
        says: /another content than cuff\/left@A/,
      },
      ownState,
    );
  });

  it.each([
    'vetting/cuff/right/A/clinician.yaml',
    'vetting/cuff/left/B/clinician.yaml',
    'vetting/clinician.yaml',
  ])('a sign-off in another place: %s', async path => {
    await expectOnly(
      registry(signoff(), path),
      {
        code: 'vetting-misplaced',
        severity: 'warning',
        file: path,
        line: 'revision: cuff/left@A',
        says: /lies elsewhere/,
      },
      ownState,
    );
  });
});
