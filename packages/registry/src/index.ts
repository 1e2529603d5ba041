export * from './defaults.ts';
export * from './snapshot/types.ts';
export { fileSource } from './snapshot/file-source.ts';
export { snapshotFromPath } from './snapshot/from-folder.ts';
export { openRepository, type Repository } from './git/repository.ts';
export { parseRevisionSpec, type RevisionSpec } from './git/revision-spec.ts';
export { snapshotFromGit } from './git/snapshot-from-git.ts';
