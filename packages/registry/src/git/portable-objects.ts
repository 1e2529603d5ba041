import fs from 'node:fs';
import { readObject } from 'isomorphic-git';
import { bytesSource } from '@kinprint/mesh';
import type { GitObject, GitObjects, ObjectSize, ObjectType } from './objects.ts';

/**
 * The object store of a git folder, read without the git program: for where there is none, and to judge the other
 * way by.
 *
 * Limits: whole objects in memory; packs up to 2 GiB; no SHA-256 repositories, linked worktrees or alternates.
 */
export function portableObjects(gitFolder: string): GitObjects {
  // Without one cache for all calls, the whole pack is read again for each object.
  const cache = {};
  let closed = false;

  async function read(id: string): Promise<GitObject> {
    if (closed) throw new Error('The object store is closed.');
    try {
      const { object, type } = await readObject({ fs, gitdir: gitFolder, oid: id, format: 'content', cache });
      if (!(object instanceof Uint8Array) || !isType(type))
        return { state: 'damaged', text: 'It is no git object.' };
      return { state: 'found', type, content: { ...bytesSource(object), close: () => undefined } };
    } catch (error) {
      if (!(error instanceof Error)) throw error;
      return 'code' in error && error.code === 'NotFoundError'
        ? { state: 'missing' }
        : { state: 'damaged', text: error.message };
    }
  }

  return {
    format: 'sha1',
    read,
    async sizes(ids) {
      const sizes: ObjectSize[] = [];
      for (const id of ids) {
        const object = await read(id);
        sizes.push(object.state === 'found' ? object.content.size : object.state);
      }
      return sizes;
    },
    close() {
      closed = true;
      return Promise.resolve();
    },
  };
}

function isType(word: string | undefined): word is ObjectType {
  return word === 'blob' || word === 'tree' || word === 'commit' || word === 'tag';
}
