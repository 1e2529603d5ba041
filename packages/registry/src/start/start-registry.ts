import { lstatSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { schemaFiles, writeDocument, type RegistryDocument } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import { isIgnored } from '../git/head.ts';
import { runOwnGit } from '../git/own-program.ts';
import { must } from '../git/store-files.ts';
import { findRegistry, namedRegistry } from '../state/find-registry.ts';
import { registryFile } from '../state/registry-files.ts';
import { attributes, attributesText, devicesReadme, registryComments, rootReadme } from './texts.ts';

export interface StartOptions {
  readonly name: string;
  readonly summary?: string;
  readonly maintainer?: string;
}

export interface StartReport {
  readonly root: string;
  /** Files that were written, from the root. */
  readonly made: readonly string[];
  /** Files that were there and stay as they are. */
  readonly kept: readonly string[];
  /** Whether the git repository was made, was there, or could not be made because git is missing. */
  readonly repository: 'made' | 'found' | 'no-git';
  /** What is left for a person to do. */
  readonly notes: readonly string[];
}

/**
 * Makes a registry in a folder: registry.yaml, the schemas for editors, attributes that keep git from converting line
 * ends, a few words for people, and a git repository where there is none. Overwrites nothing; run again, it adds what
 * is missing.
 *
 * @param folder made where it is missing
 * @throws InputError `registry-name`, `registry-inside`, `folder-unusable`
 */
export async function startRegistry(folder: string, options: StartOptions): Promise<StartReport> {
  const root = path.resolve(folder);
  const name = options.name.trim();
  if (name === '' || [...name].length > 200 || /[\u0000-\u001f]/.test(name))
    throw new InputError(
      'registry-name',
      'A registry needs a name of one line.',
      'Give it with --name "Our lending group".',
    );
  refuseInside(root);
  const document: RegistryDocument = {
    kinprint: 'registry/1',
    name,
    ...(options.summary === undefined ? {} : { summary: options.summary }),
    ...(options.maintainer === undefined ? {} : { maintainers: [{ name: options.maintainer }] }),
  };
  const files: readonly (readonly [string, string])[] = [
    [registryFile, writeDocument('registry', document, registryComments)],
    ['.gitattributes', attributesText],
    ...Object.entries(schemaFiles).map(([file, text]) => [`schemas/${file}`, text] as const),
    ['devices/README.md', devicesReadme],
    ['README.md', rootReadme(name)],
  ];
  const made: string[] = [];
  const kept: string[] = [];
  for (const [file, text] of files) (writeNew(path.join(root, file), text) ? made : kept).push(file);
  const repository = await repositoryAt(root);
  const notes = attributesLack(root)
    ? [`.gitattributes was there: add the line '${attributes}', so that git converts no line ends in meshes.`]
    : [];
  return { root, made, kept, repository, notes };
}

/** A registry within a registry would be found instead of it. */
function refuseInside(root: string): void {
  try {
    namedRegistry(root);
    return;
  } catch {
    // no registry yet
  }
  let outer: string;
  try {
    outer = findRegistry(path.dirname(root));
  } catch {
    return;
  }
  throw new InputError(
    'registry-inside',
    `The folder lies in a registry already: ${outer}.`,
    'Choose a folder outside of it, or add devices to that one.',
    { file: root },
  );
}

/** Writes a file that is not there yet; false when something of that name is. */
function writeNew(file: string, text: string): boolean {
  try {
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, text, { flag: 'wx' });
    return true;
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : null;
    if (code === 'EEXIST' && isThere(file)) return false;
    if (typeof code !== 'string') throw error;
    throw new InputError(
      'folder-unusable',
      `The file cannot be written (${code}).`,
      'Choose a folder that you may write to.',
      { file },
    );
  }
}

/** Also a link that leads nowhere: not ours to replace. Not where a file stands in place of a folder above. */
function isThere(file: string): boolean {
  try {
    return lstatSync(file, { throwIfNoEntry: false }) !== undefined;
  } catch {
    return false;
  }
}

function attributesLack(root: string): boolean {
  try {
    return !readFileSync(path.join(root, '.gitattributes'), 'utf8').split(/\r?\n/).includes(attributes);
  } catch {
    return true; // a folder, or a link that leads nowhere
  }
}

async function repositoryAt(root: string): Promise<StartReport['repository']> {
  try {
    const around = (await runOwnGit(root, ['rev-parse', '--git-dir'])).code === 0;
    // A repository that ignores the folder keeps another history.
    if (around && !(await isIgnored(root))) return 'found';
    must(await runOwnGit(root, ['init', '-q']));
    return 'made';
  } catch (error) {
    if (error instanceof InputError && error.code === 'git-missing') return 'no-git';
    throw error;
  }
}
