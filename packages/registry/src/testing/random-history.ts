import { gitWith, temporaryRepository, type TemporaryRepository } from './temporary-repository.ts';

/** A commit of a made-up history: it stands on earlier ones, and sets or removes files. */
export interface MadeCommit {
  /** How many commits back each parent is; those before the first are left out. */
  readonly back: readonly number[];
  /** Path to content; null takes the file or folder away. */
  readonly files: readonly (readonly [string, string | null])[];
}

/**
 * A repository with a branch `b0`, `b1` … at each commit that nothing stands on, made in one go; paths must not need
 * quoting.
 */
export function repositoryOf(commits: readonly MadeCommit[]): TemporaryRepository {
  const repo = temporaryRepository();
  const stood = new Set<number>();
  let stream = '';
  commits.forEach(({ back, files }, k) => {
    const parents = [...new Set(back.map(steps => k - steps))].filter(at => at >= 0 && at < k);
    for (const parent of parents) stood.add(parent);
    stream += `reset refs/made/${k}\n\ncommit refs/made/${k}\nmark :${k + 1}\n`;
    stream += `committer Robin Sample <robin@example.org> ${1_700_000_000 + k} +0000\ndata 1\nx\n`;
    parents.forEach((parent, i) => (stream += `${i === 0 ? 'from' : 'merge'} :${parent + 1}\n`));
    for (const [path, content] of files)
      stream +=
        content === null
          ? `D ${path}\n`
          : `M 100644 inline ${path}\ndata ${Buffer.byteLength(content)}\n${content}\n`;
    stream += '\n';
  });
  gitWith(repo.folder, stream, 'fast-import', '--quiet');
  const ends = commits.map((_, k) => k).filter(k => !stood.has(k));
  const refs = [
    ...ends.map((k, i) => `create refs/heads/b${i} ${repo.git('rev-parse', `refs/made/${k}`)}`),
    ...commits.map((_, k) => `delete refs/made/${k}`),
  ];
  gitWith(repo.folder, `${refs.join('\n')}\n`, 'update-ref', '--stdin');
  return repo;
}
