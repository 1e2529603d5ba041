/** What a commit says before its message. */
export interface CommitHead {
  readonly tree: string;
  readonly parents: readonly string[];
  /** The commit's time in seconds since 1970. */
  readonly time: number;
}

/**
 * Reads the head of a commit object: `tree`, any number of `parent`, `author`, `committer` with the time ("Git
 * Objects", the git book, chapter 10.2).
 *
 * @param bytes at least the whole head
 * @returns null when the bytes are no commit
 */
export function parseCommitHead(bytes: Uint8Array): CommitHead | null {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString('latin1');
  const head =
    /^tree ([0-9a-f]{40,64})\n((?:parent [0-9a-f]{40,64}\n)*)author [^\n]*\ncommitter ([^\n]*)\n/.exec(text);
  if (head === null) return null;
  const time = / (-?[0-9]{1,15}) [+-][0-9]+$/.exec(head[3])?.[1];
  return {
    tree: head[1],
    parents: head[2]
      .split('\n')
      .slice(0, -1)
      .map(line => line.slice('parent '.length)),
    time: Number(time ?? 0),
  };
}

/** The id that a tag object names; null when the bytes are no tag. */
export function parseTag(bytes: Uint8Array): string | null {
  const line = Buffer.from(bytes.subarray(0, 100)).toString('latin1');
  return /^object ([0-9a-f]{40,64})\n/.exec(line)?.[1] ?? null;
}

/** Tags of tags of tags: nobody means more. */
export const maxPeel = 16;
