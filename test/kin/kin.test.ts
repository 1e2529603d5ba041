import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { writeStlBinary, type Mesh } from '@kinprint/mesh';
import { loadKernel, type Kernel } from '@kinprint/solid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { smallRegistry, type SmallRegistry } from '../../packages/registry/src/testing/small-registry.ts';
import {
  gitIn,
  identity,
  removeTemporaryFolders,
  temporaryFolder,
} from '../../packages/registry/src/testing/temporary-repository.ts';
import { after, motion, scaling } from '../../tools/corpus/transform.ts';
import {
  affine,
  buildMesh,
  cuffShell,
  gripPad,
  hingeLeaf,
  mirroredX,
  moved,
  refined,
  snapClip,
  strapBuckle,
  type Solid,
} from '../../tools/demo/shapes/index.ts';
import { recordByHand } from '../check/support.ts';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

interface KinOut {
  readonly looked: number;
  readonly letters_missing: number;
  readonly answers: readonly {
    readonly name: string;
    readonly relatives: readonly {
      readonly relation: string;
      readonly mirrored: boolean;
      readonly scale: number;
      readonly evidence: string;
      readonly matched_query: number;
      readonly body: number | null;
      readonly deviation: { readonly max_mm: number };
      readonly places: readonly {
        address: string;
        part: string;
        letter: string | null;
        declared: string | null;
      }[];
    }[];
  }[];
}

let kernel: Kernel;
let registry: SmallRegistry;
const mesh = (solid: Solid): Mesh => buildMesh(kernel, solid);
const part = (id: string): string => `  - id: ${id}\n    mesh: parts/${id}.stl\n`;
/** Carried somewhere else, other facets. */
const astray = (solid: Solid, factor = 1): Solid =>
  affine(refined(solid, 4), after(motion([1, 2, -0.5], 73, [30, -12, 8]), scaling(factor)));

beforeAll(async () => {
  identity();
  kernel = await loadKernel();
  registry = smallRegistry();
  registry.variant('right', `parts:\n${part('shell')}${part('leaf')}`, {
    'shell.stl': mesh(cuffShell()),
    'leaf.stl': mesh(hingeLeaf()),
  });
  registry.variant('clips', `parts:\n${part('clip')}${part('buckle')}`, {
    'clip.stl': mesh(snapClip()),
    'buckle.stl': mesh(strapBuckle()),
  });
  // An undeclared copy: mirrored, 1.12 times as large, elsewhere, triangulated anew.
  registry.variant('found', `parts:\n${part('thing')}`, {
    'thing.stl': mesh(astray(mirroredX(cuffShell()), 1.12)),
  });
  const digest = await recordByHand(registry.folder, 'cuff/right', 'A');
  registry.variant(
    'drilled',
    `derivations:\n  - from: cuff/right@A\n    digest: ${digest}\n    relation: remix\nparts:\n${part('shell')}`,
    { 'shell.stl': mesh(cuffShell({ hingeBore: 3, rib: true })) },
  );
  registry.variant('plate', `parts:\n${part('all')}`, {
    'all.stl': mesh({ op: 'union', parts: [moved(gripPad(), 200, 0, 0), moved(strapBuckle(), 120, 0, 0)] }),
  });
}, 120_000);
afterAll(removeTemporaryFolders);

async function kin(...args: string[]): Promise<KinOut> {
  const { code, out, err } = await runCli(['kin', '--no-cache', '--json', ...args], registry.folder);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  const report = JSON.parse(out) as KinOut;
  expect(objections('kin', report)).toEqual([]);
  return report;
}

function query(solid: Solid): string {
  const file = path.join(temporaryFolder(), 'query.stl');
  mkdirSync(path.dirname(file), { recursive: true });
  writeFileSync(file, writeStlBinary(mesh(solid)));
  return file;
}

describe('kinprint kin', () => {
  it('finds an undeclared copy that was mirrored, moved, rescaled and triangulated anew', async () => {
    const { answers } = await kin('cuff/right/shell');
    const [copy, reworked, ...rest] = answers[0].relatives;
    expect(rest).toEqual([]);
    expect(copy).toMatchObject({
      relation: 'rescaled',
      mirrored: true,
      matched_query: 1,
      places: [{ address: 'cuff/found', part: 'thing', letter: null, declared: 'not-declared' }],
    });
    expect(copy.scale).toBeCloseTo(1.12, 5);
    expect(copy.evidence).toMatch(
      /^same shape after scaling by 1.12 and mirroring; largest deviation below 0.001 mm$/,
    );
    expect(reworked).toMatchObject({
      relation: 'reworked',
      mirrored: false,
      scale: 1,
      places: [{ address: 'cuff/drilled', declared: 'descendant' }],
    });
    expect(reworked.deviation.max_mm).toBeGreaterThan(0.1);
  });

  it('tells the ancestor as declared, seen from the other side', async () => {
    const { answers } = await kin('cuff/drilled');
    const places = answers[0].relatives.flatMap(relative => relative.places);
    expect(places).toContainEqual(expect.objectContaining({ address: 'cuff/right', declared: 'ancestor' }));
    expect(places).toContainEqual(
      expect.objectContaining({ address: 'cuff/found', declared: 'not-declared' }),
    );
  });

  it('finds a part among the bodies of a plate, and the plate for the part', async () => {
    const { answers } = await kin('cuff/clips/buckle');
    expect(answers[0].relatives).toMatchObject([
      { relation: 'moved', places: [{ address: 'cuff/plate', part: 'all' }] },
    ]);
    expect(answers[0].relatives[0].body).not.toBeNull();
    const turned = await kin('cuff/plate');
    expect(turned.answers[0].relatives).toMatchObject([
      { relation: 'moved', places: [{ address: 'cuff/clips', part: 'buckle' }] },
    ]);
  });

  it('finds nothing for a mesh that is related to nothing', async () => {
    const box: Solid = { op: 'box', size: [31, 17, 9] };
    const { answers, looked } = await kin(query(box));
    expect(answers[0].relatives).toEqual([]);
    expect(looked).toBe(7);
  });

  it('takes a mesh file from elsewhere, in its unit', async () => {
    const { answers } = await kin(query(astray(hingeLeaf(), 0.1)), '--unit', 'centimeter');
    expect(answers[0].relatives).toMatchObject([
      { relation: 'moved', scale: 1, places: [{ address: 'cuff/right', part: 'leaf', declared: null }] },
    ]);
  });

  it('prints a block for each relative within 80 columns', async () => {
    const { code, out } = await runCli(['kin', '--no-cache', 'cuff/right/shell'], registry.folder);
    expect(code).toBe(0);
    // Shares and lengths of the rework are the kernel's business.
    expect(out.replace(/\d+ % of|\d\.\d+ mm;|\d\.\d\d mm$/gm, '#')).toBe(`cuff/right/shell
  rescaled, mirrored
    cuff/found part thing – not declared
    same shape after scaling by 1.12 and mirroring; largest deviation below
    0.001 mm
  reworked
    cuff/drilled part shell – declared as descendant
    # its surface and # the relative's coincide within #
    largest deviation #

Looked through 6 different meshes of Utensil-cuff lending group.
`);
    for (const line of out.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
  });

  it('looks through letters in history', async () => {
    const own = smallRegistry();
    own.variant('old', `parts:\n${part('clip')}`, { 'clip.stl': mesh(snapClip()) });
    await recordByHand(own.folder, 'cuff/old', 'A');
    gitIn(own.folder, 'init', '-q');
    gitIn(own.folder, 'add', '.');
    gitIn(own.folder, 'commit', '-q', '-m', 'Letter A');
    own.write('devices/cuff/old/parts/clip.stl', mesh(gripPad()));
    const { out } = await runCli(['kin', '--no-cache', '--json', query(astray(snapClip()))], own.folder);
    const report = JSON.parse(out) as KinOut;
    expect(report.answers[0].relatives).toMatchObject([
      { relation: 'moved', places: [{ address: 'cuff/old', part: 'clip', letter: 'A' }] },
    ]);
    expect(report.letters_missing).toBe(0);
  });

  it('looks through the registries that are listed as sources, when asked to', async () => {
    const friends = smallRegistry();
    friends.variant('theirs', `parts:\n${part('clip')}`, {
      'clip.stl': mesh(astray(mirroredX(snapClip()), 1.3)),
    });
    gitIn(friends.folder, 'init', '-q');
    gitIn(friends.folder, 'add', '.');
    gitIn(friends.folder, 'commit', '-q', '-m', 'Clip');
    const own = smallRegistry(`sources:\n  friends: { git: '${friends.folder}' }\n`);
    own.variant('ours', `parts:\n${part('clip')}`, { 'clip.stl': mesh(snapClip()) });
    const cache = process.env.KINPRINT_CACHE;
    process.env.KINPRINT_CACHE = temporaryFolder();
    try {
      const without = await runCli(['kin', '--json', 'cuff/ours'], own.folder);
      expect((JSON.parse(without.out) as KinOut).answers[0].relatives).toEqual([]);
      const { code, out } = await runCli(['kin', '--json', '--sources', 'cuff/ours'], own.folder);
      expect(code).toBe(0);
      expect((JSON.parse(out) as KinOut).answers[0].relatives).toMatchObject([
        {
          relation: 'rescaled',
          places: [{ address: 'friends:cuff/theirs', part: 'clip', declared: 'not-declared' }],
        },
      ]);
      // From the cache: the same answer.
      expect((await runCli(['kin', '--json', '--sources', 'cuff/ours'], own.folder)).out).toBe(out);
    } finally {
      if (cache === undefined) delete process.env.KINPRINT_CACHE;
      else process.env.KINPRINT_CACHE = cache;
    }
    const { code, err } = await runCli(['kin', '--no-cache', '--sources', 'cuff/ours'], own.folder);
    expect(code).toBe(2);
    expect(err).toContain('Sources are kept in the cache');
  });

  it.each([
    ['absent.stl', 'There is no file'],
    ['cuff/rihgt', 'Did you mean'],
    ['cuff/right/shel', "Did you mean 'shell'"],
    ['cuff', 'no address of a variant'],
  ])('says what is wrong with %s', async (name, text) => {
    const { code, err, out } = await runCli(['kin', '--no-cache', name], registry.folder);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(text);
  });
});
