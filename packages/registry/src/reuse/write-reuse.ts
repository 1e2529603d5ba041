import { randomBytes } from 'node:crypto';
import { lstatSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { InputError } from '@kinprint/mesh';
import { revisionRefs } from '../bill/bill-files.ts';
import { nodeContent } from '../bill/node-content.ts';
import type { StateHistory } from '../history/content-at.ts';
import type { RevisionContent } from '../history/history.ts';
import type { RegistryWorks } from '../licenses/works-of.ts';
import type { LineageNode } from '../lineage/types.ts';
import { copySource } from '../snapshot/copy-source.ts';
import { pathBytes } from '../snapshot/path-text.ts';
import { registryFolders } from '../state/registry-files.ts';
import type { RegistryState } from '../state/types.ts';
import { licenseText } from './license-text.ts';

/** What is to lie beside a revision's files. */
export interface ReuseRequest {
  /** Files to write, by their path from the folder. Where the revision has one of that name, its own stays. */
  readonly texts: readonly { readonly path: string; readonly text: string }[];
  /** Ids of licenses and exceptions whose texts belong into `LICENSES`. */
  readonly licenses: readonly string[];
}

export interface ReuseOutcome {
  readonly folder: string;
  /** Paths of the revision's own files. */
  readonly files: readonly string[];
  /** Paths of what was written beside them. */
  readonly written: readonly string[];
  /** Paths that the revision has already; its own were kept. */
  readonly kept: readonly string[];
  /** Ids of licenses whose text is not at hand. */
  readonly missing: readonly string[];
}

/**
 * Writes a revision's files into a new folder, and beside them what REUSE asks for: made beside its place and put there
 * in one step. Nothing is overwritten.
 *
 * @param target absolute; nothing may be there, or an empty folder
 * @throws InputError `output-exists`, `output-in-registry`, `output-unwritable`, `content-missing`, `changed-meanwhile`,
 *   what keeps a file from being read
 */
export async function writeReuse(
  state: RegistryState,
  history: StateHistory,
  works: RegistryWorks,
  node: LineageNode,
  request: ReuseRequest,
  target: string,
): Promise<ReuseOutcome> {
  const content = await nodeContent(state, history, works, node);
  if (typeof content === 'string')
    throw new InputError(
      'content-missing',
      `The files of ${node.id} cannot be had. ${content}`,
      'Name a letter whose files are here.',
    );
  refuseRegistry(state, target);
  if (isTaken(target)) throw exists(target);
  const beside = path.join(
    path.dirname(target),
    `.kinprint-reuse-${process.pid}-${randomBytes(4).toString('hex')}`,
  );
  try {
    const outcome = await fill(content, request, beside);
    if (isTaken(target)) throw exists(target);
    renameSync(beside, target);
    return { folder: target, ...outcome };
  } catch (error) {
    throw error instanceof Error && 'syscall' in error ? unwritable(error, target) : error;
  } finally {
    rmSync(beside, { recursive: true, force: true });
  }
}

async function fill(
  content: RevisionContent,
  { texts, licenses }: ReuseRequest,
  folder: string,
): Promise<Omit<ReuseOutcome, 'folder'>> {
  mkdirSync(folder);
  const refs = await revisionRefs(content);
  const files: string[] = [];
  for (const ref of refs) {
    const file = ref.path.slice(content.folder.length + 1);
    const source = await content.files.open(ref);
    try {
      if (copySource(source, placeFor(folder, file)) === null) throw changed(ref.path);
    } finally {
      source.close();
    }
    files.push(file);
  }
  const [written, kept, missing]: [string[], string[], string[]] = [[], [], []];
  const own = new Set(files);
  const put = (file: string, text: string): void => {
    if (own.has(file)) kept.push(file);
    else {
      writeFileSync(placeFor(folder, file), text, { flag: 'wx', mode: 0o644, flush: true });
      written.push(file);
    }
  };
  for (const { path: file, text } of texts) put(file, text);
  const there = new Set([...files, ...written].map(file => file.replace(/\.(txt|md)$/, '')));
  for (const id of licenses) {
    if (there.has(`LICENSES/${id}`)) continue;
    const text = await licenseText(id);
    if (text === null) missing.push(id);
    else put(`LICENSES/${id}.txt`, text);
  }
  return { files, written, kept, missing };
}

/** The bytes of a file's place, with the folders above it made. Paths were listed by us; none leads out. */
function placeFor(folder: string, file: string): Buffer {
  if (file.split('/').some(step => step === '' || step === '.' || step === '..'))
    throw new InputError('path-outside', 'The path leads out of its folder.', 'Run kinprint check.', {
      file,
    });
  const under = (steps: string): Buffer => Buffer.concat([Buffer.from(`${folder}/`), pathBytes(steps)]);
  const slash = file.lastIndexOf('/');
  if (slash > 0) mkdirSync(under(file.slice(0, slash)), { recursive: true });
  return under(file);
}

/** What lies in the registry's folders counts as its content. */
function refuseRegistry({ files }: RegistryState, target: string): void {
  if (files.root === null) return;
  const [first] = path.relative(files.root, target).split(path.sep);
  if (registryFolders.includes(first))
    throw new InputError(
      'output-in-registry',
      'The folder lies among the content of the registry.',
      'Name a folder outside it.',
      { file: target },
    );
}

function isTaken(place: string): boolean {
  const stat = lstatSync(place, { throwIfNoEntry: false });
  return stat !== undefined && !(stat.isDirectory() && readdirSync(place).length === 0);
}

function exists(file: string): InputError {
  return new InputError(
    'output-exists',
    'There is something of that name already, and nothing is overwritten.',
    'Name a folder that is not there yet, or an empty one.',
    { file },
  );
}

function changed(file: string): InputError {
  return new InputError(
    'changed-meanwhile',
    'The file changed while it was read.',
    'Nothing was written. Try again.',
    { file },
  );
}

function unwritable(error: Error, file: string): InputError {
  const code = 'code' in error ? String(error.code) : error.message;
  return new InputError(
    'output-unwritable',
    `The folder cannot be written (${code}).`,
    'Name a folder in one that you can write to.',
    { file },
  );
}
