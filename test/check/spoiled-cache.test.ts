import { afterAll, expect, it } from 'vitest';
import { checkRegistry, noCache, openCheck, type Cache } from '@kinprint/registry';
import { moved } from '../../packages/mesh/src/testing/motions.ts';
import { tube } from '../../packages/mesh/src/testing/shapes.ts';
import { smallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import { gitIn, removeTemporaryFolders } from '../../packages/registry/src/testing/temporary-repository.ts';
import { recordByHand } from './support.ts';

afterAll(removeTemporaryFolders);

/** Keeps everything, and gives it back spoiled. */
function spoiling(spoil: (value: unknown) => unknown): Cache & { readonly given: Set<string> } {
  const kept = new Map<string, unknown>();
  const given = new Set<string>();
  return {
    lasting: true,
    given,
    get(kind, version, key) {
      const name = `${kind} ${version} ${key}`;
      if (!kept.has(name)) return undefined;
      given.add(kind);
      return spoil(kept.get(name));
    },
    put: (kind, version, key, value) => void kept.set(`${kind} ${version} ${key}`, structuredClone(value)),
    flush: () => undefined,
  };
}

const inner = (change: (value: unknown) => unknown) => (value: unknown) =>
  Array.isArray(value)
    ? value.map(change)
    : typeof value === 'object' && value !== null
      ? Object.fromEntries(Object.entries(value).map(([key, item]) => [key, change(item)]))
      : change(value);

it.each<readonly [string, (value: unknown) => unknown]>([
  ['null', () => null],
  ['an empty group', () => ({})],
  ['an empty list', () => []],
  ['text', () => 'x'],
  ['nulls within', inner(() => null)],
  ['text within', inner(() => 'x')],
  ['nulls two levels down', inner(inner(() => null))],
])(
  'what a spoiled cache gives is made anew: %s',
  async (_name, spoil) => {
    const registry = smallRegistry();
    const { folder } = registry;
    const shell = 'parts:\n  - id: shell\n    mesh: parts/shell.stl\n';
    const mesh = tube(24, 10, 6, 20);
    registry.variant('left', shell, { 'shell.stl': mesh });
    const digest = await recordByHand(folder, 'cuff/left', 'A');
    registry.variant(
      'right',
      `derivations:\n  - {from: cuff/left@A, digest: '${digest}', relation: mirror}\n${shell}`,
      {
        'shell.stl': moved(mesh, [
          [0, -1, 0],
          [1, 0, 0],
          [0, 0, 1],
        ]),
      },
    );
    gitIn(folder, 'init', '-q');
    gitIn(folder, 'add', '.');
    gitIn(folder, '-c', 'user.name=T', '-c', 'user.email=t@example.org', 'commit', '-qm', 'all');
    const cache = spoiling(spoil);
    const checked = async (from: Cache) => {
      const open = await openCheck(folder, null, from);
      try {
        return (await checkRegistry(open.state, open.options)).findings;
      } finally {
        await open.close();
      }
    };
    const expected = await checked(noCache());
    expect(await checked(cache)).toEqual(expected);
    cache.given.clear();
    expect(await checked(cache)).toEqual(expected);
    expect([...cache.given].sort()).toEqual(
      expect.arrayContaining([
        'content-digest',
        'document-variant',
        'likeness',
        'measured-part',
        'recorded-letters',
      ]),
    );
  },
  60_000,
);
