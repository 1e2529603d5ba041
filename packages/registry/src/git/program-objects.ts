import type { ChildProcessWithoutNullStreams } from 'node:child_process';
import { tmpdir } from 'node:os';
import { registryDefaults } from '../defaults.ts';
import { batchAnswers, type BatchAnswers } from './batch-answers.ts';
import { collector } from './collect.ts';
import type { GitObject, GitObjects, ObjectFormat, ObjectSize } from './objects.ts';
import { makeOwnFolder, type OwnFolder } from './own-folder.ts';
import { startError } from './child.ts';
import { startObjectReader } from './program.ts';

interface Request {
  readonly id: string;
  readonly resolve: (object: GitObject) => void;
  readonly reject: (error: unknown) => void;
}

interface Reader {
  readonly child: ChildProcessWithoutNullStreams;
  /** The git folder it was started in; gone with its first answer. */
  readonly own: OwnFolder;
  readonly answers: BatchAnswers;
  err: string;
}

/**
 * The object store at `objects` (a repository's `objects` folder), read by one `git cat-file --batch` that lives as
 * long as the store is open. An object on which git gives up is reported as damaged, and a new reader takes over
 * the rest.
 *
 * @param memoryLimit larger objects go through a file in the temporary folder
 */
export function programObjects(
  objects: string,
  format: ObjectFormat,
  memoryLimit: number = registryDefaults.maxMemoryBytes,
): GitObjects {
  const waiting: Request[] = [];
  let reader: Reader | null = null;
  let closed = false;

  function start(): Reader {
    const own = makeOwnFolder(format);
    const child = startObjectReader(own.path, objects, ['cat-file', '--batch']);
    const answers = batchAnswers(
      size => collector(size, tmpdir(), memoryLimit),
      object => waiting.shift()?.resolve(object),
    );
    const started: Reader = { child, own, answers, err: '' };
    child.stdout.once('data', () => own.remove());
    child.stdout.on('data', (piece: Buffer) => {
      try {
        answers.take(piece);
      } catch (error) {
        waiting.shift()?.reject(error);
        child.kill();
      }
    });
    child.stderr.on(
      'data',
      (piece: Buffer) => (started.err = (started.err + piece.toString()).slice(0, 2048)),
    );
    child.on('error', error => {
      own.remove();
      reader = null;
      for (const request of waiting.splice(0)) request.reject(startError(error));
    });
    child.stdin.on('error', () => undefined); // the end of the child says why
    child.on('close', () => ended(started));
    return started;
  }

  function ended(gone: Reader): void {
    gone.own.remove();
    gone.answers.abandon();
    if (reader === gone) reader = null;
    const stuck = closed ? undefined : waiting.shift();
    const text = gone.err.trim().split('\n').at(-1) ?? '';
    stuck?.resolve({ state: 'damaged', text: text === '' ? 'git could not read it.' : text });
    if (waiting.length === 0) return;
    reader = start();
    for (const request of waiting) ask(reader, request);
  }

  function ask(to: Reader, request: Request): void {
    to.child.stdin.write(`${request.id}\n`);
  }

  return {
    format,
    read(id) {
      return new Promise((resolve, reject) => {
        if (closed) throw new Error('The object store is closed.');
        const request = { id, resolve, reject };
        waiting.push(request);
        reader ??= start();
        ask(reader, request);
      });
    },
    sizes: ids => objectSizes(format, objects, ids),
    close() {
      closed = true;
      for (const request of waiting.splice(0)) request.reject(new Error('The object store was closed.'));
      const child = reader?.child;
      const gone =
        child === undefined
          ? Promise.resolve()
          : new Promise<void>(resolve => child.on('close', () => resolve()));
      child?.kill();
      return gone;
    },
  };
}

/** Asks for all sizes at once; where git gives up on a damaged object, asks again for those behind it. */
async function objectSizes(
  format: ObjectFormat,
  objects: string,
  ids: readonly string[],
): Promise<ObjectSize[]> {
  const sizes: ObjectSize[] = [];
  while (sizes.length < ids.length) {
    for (const line of await sizeLines(format, objects, ids.slice(sizes.length)))
      sizes.push(/^[0-9]+$/.test(line) ? Number(line) : 'missing');
    if (sizes.length < ids.length) sizes.push('damaged');
  }
  return sizes;
}

function sizeLines(format: ObjectFormat, objects: string, ids: readonly string[]): Promise<string[]> {
  const own = makeOwnFolder(format);
  const child = startObjectReader(own.path, objects, ['cat-file', '--batch-check=%(objectsize)']);
  return new Promise((resolve, reject) => {
    let out = '';
    child.stdout.setEncoding('latin1').on('data', (piece: string) => (out += piece));
    child.stderr.resume();
    child.stdin.on('error', () => undefined);
    child.stdout.once('data', () => own.remove());
    child.on('error', error => {
      own.remove();
      reject(startError(error));
    });
    child.on('close', () => {
      own.remove();
      resolve(out.split('\n').slice(0, -1));
    });
    child.stdin.end(ids.map(id => `${id}\n`).join(''));
  });
}
