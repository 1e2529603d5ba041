import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  editDocument,
  parseRevisionAddress,
  writeDocument,
  type Derivation,
  type Digest,
  type VariantDocument,
} from '@kinprint/manifest';
import { writeStlBinary, writeThreeMf } from '@kinprint/mesh';
import { readRegistry, recordVariant, startRegistry, workingFiles } from '@kinprint/registry';
import { loadKernel } from '@kinprint/solid';
import { gitIn, identity, isolated, type Git } from '../git.ts';
import { clubSteps } from './club.ts';
import { placementsOf } from './cuff-parts.ts';
import { mistakes, reworkedLeaf } from './mistakes.ts';
import { mira, wim } from './people.ts';
import { devices, registry, steps, type Recording } from './scenario.ts';

/**
 * Makes the demo registry anew at `target`: an invented lending group's cuffs in four generations, with branches and
 * merges, recorded by the program itself; and a branch `submission` with mistakes. The commits are the same everywhere.
 */
export async function makeRegistry(target: string): Promise<void> {
  rmSync(target, { recursive: true, force: true });
  const home = mkdtempSync(path.join(tmpdir(), 'kinprint-demo-'));
  const outside = { ...process.env };
  try {
    // What the program runs in this process must not see this machine's settings either.
    Object.assign(process.env, isolated(home));
    await make(target, home);
  } finally {
    for (const name of Object.keys(process.env)) if (!(name in outside)) delete process.env[name];
    Object.assign(process.env, outside);
    rmSync(home, { recursive: true, force: true });
  }
}

async function make(target: string, home: string): Promise<void> {
  const started = '2023-08-30T19:00:00+02:00';
  mkdirSync(target, { recursive: true });
  const git = gitIn(target, home);
  git(['init', '--quiet', '--initial-branch=main', '--template=']);
  await startRegistry(target, { name: registry.name });
  write(target, 'registry.yaml', writeDocument('registry', registry));
  for (const [device, document] of Object.entries(devices))
    write(target, `devices/${device}/device.yaml`, writeDocument('device', document));
  commit(git, 'Start the registry', identity(mira, started));

  const kernel = await loadKernel();
  const digests = new Map<string, Digest>();
  for (const step of [...steps(kernel), ...clubSteps(kernel)]) {
    switch (step.kind) {
      case 'branch':
        git(['checkout', '--quiet', '-b', step.name, step.at]);
        break;
      case 'merge':
        git(['checkout', '--quiet', 'main']);
        git(
          ['merge', '--quiet', '--no-ff', '--message', `Merge ${step.name}`, step.name],
          identity(step.by, step.date),
        );
        break;
      case 'record':
        await record(target, step, digests);
        break;
    }
  }

  git(['checkout', '--quiet', '-b', 'submission']);
  for (const [file, content] of mistakes(kernel)) write(target, file, content);
  commit(git, 'Two more cuffs', identity(wim, '2025-08-14T23:50:00+02:00'));
  for (const [file, content] of reworkedLeaf(kernel)) write(target, file, content);
  commit(git, 'A longer knuckle for a stiffer hinge, 62 mm', identity(wim, '2025-08-15T00:20:00+02:00'));
  git(['checkout', '--quiet', 'main']);
}

async function record(target: string, step: Recording, digests: Map<string, Digest>): Promise<void> {
  const folder = `devices/${step.address}`;
  const manifestPath = path.join(target, folder, 'variant.yaml');
  const derivations = (step.derivations ?? []).map(
    ({ from, ...rest }): Derivation => ({ from, digest: digestOf(digests, from), ...rest }),
  );
  const assembly = placementsOf(step.parts);
  const document: VariantDocument = {
    kinprint: 'variant/1',
    ...step.manifest,
    ...(derivations.length > 0 ? { derivations } : {}),
    parts: step.parts.map(({ part }) => part),
    ...(assembly.length > 0 ? { assembly } : {}),
  };
  for (const { part, mesh } of step.parts) {
    write(
      target,
      `${folder}/${part.mesh}`,
      part.mesh.endsWith('.3mf') ? writeThreeMf([{ name: part.id, mesh }]) : writeStlBinary(mesh),
    );
    for (const source of part.source ?? [])
      write(target, `${folder}/${source}`, `The shell is built from parameters in this demo's own script.\n`);
  }
  for (const [name, text] of Object.entries(step.files ?? {})) write(target, `${folder}/${name}`, text);
  write(
    target,
    `${folder}/variant.yaml`,
    existsSync(manifestPath)
      ? editDocument(
          readFileSync(manifestPath, 'utf8'),
          Object.entries(document).map(([key, value]) => ({ path: [key], value: value as unknown })),
        )
      : writeDocument('variant', document),
  );
  Object.assign(process.env, identity(step.by, step.date));
  const state = await readRegistry(workingFiles(target));
  const outcome = await recordVariant(state, step.address, { by: step.by.name, date: step.date.slice(0, 10) });
  if (outcome.kind !== 'recorded')
    throw new Error(`${step.address} was not recorded: ${JSON.stringify(outcome, null, 2)}`);
  digests.set(`${step.address}@${outcome.entry.letter}`, outcome.entry.digest);
}

function digestOf(digests: ReadonlyMap<string, Digest>, revision: string): Digest {
  const digest = digests.get(revision);
  if (digest === undefined || parseRevisionAddress(revision) === null)
    throw new Error(`${revision} is derived from before it is recorded.`);
  return digest;
}

function write(root: string, file: string, content: Uint8Array | string): void {
  const absolute = path.join(root, file);
  mkdirSync(path.dirname(absolute), { recursive: true });
  writeFileSync(absolute, content);
}

function commit(git: Git, message: string, who: Record<string, string>): void {
  git(['add', '--all']);
  git(['commit', '--quiet', '--message', message], who);
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  await makeRegistry(path.resolve(process.argv[2] ?? 'demo/cuff-registry'));
