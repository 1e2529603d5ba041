import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bytesSource, readMesh } from '@kinprint/mesh';
import { makeRepository } from '../../tools/demo/make-repository.ts';

describe('the demo repository', () => {
  const dir = mkdtempSync(path.join(tmpdir(), 'kinprint-demo-test-'));
  const one = path.join(dir, 'one');
  const git = (repo: string, ...args: string[]): string =>
    execFileSync('git', ['-C', repo, ...args], { encoding: 'utf8' }).trim();
  beforeAll(() => makeRepository(one));
  afterAll(() => rmSync(dir, { recursive: true, force: true }));

  it('has the three tags in order', () => {
    expect(git(one, 'rev-list', '--count', 'rev-A..rev-C')).toBe('2');
    expect(git(one, 'rev-list', '--count', 'rev-B..rev-A')).toBe('0');
    expect(git(one, 'rev-parse', 'rev-C')).toBe(git(one, 'rev-parse', 'main'));
  });

  it('is the same, commit for commit, when made again', async () => {
    const two = path.join(dir, 'two');
    await makeRepository(two);
    expect(git(two, 'rev-parse', 'rev-C')).toBe(git(one, 'rev-parse', 'rev-C'));
  });

  it('keeps the clip, renames the sleeve, and changes the shell from A to B', () => {
    const raw = git(one, 'diff-tree', '-r', '-M100%', '--name-status', 'rev-A', 'rev-B').split('\n');
    expect(raw).toContain('R100\tparts/utensil-sleeve.stl\tparts/sleeve-flat-handle.stl');
    expect(raw).toContain('M\tparts/shell-right.stl');
    expect(raw.some(line => line.includes('snap-clip'))).toBe(false);
  });

  it('writes the pad as 3MF, which states its unit', () => {
    const file = readMesh(bytesSource(readFileSync(path.join(one, 'parts/grip-pad.3mf'))));
    expect([file.format, file.unit, file.unitAssumed, file.objects[0].name]).toEqual([
      '3mf',
      'millimeter',
      false,
      'grip-pad',
    ]);
  });

  it('holds meshes that read without a complaint', () => {
    const parts = git(one, 'ls-files', 'parts').split('\n');
    expect(parts.length).toBe(5);
    for (const part of parts) {
      const file = readMesh(bytesSource(readFileSync(path.join(one, part))));
      expect(file.objects.length, part).toBe(1);
      expect(file.notes, part).toEqual([]);
    }
  });
});
