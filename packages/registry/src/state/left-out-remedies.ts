import type { Problem } from '@kinprint/manifest';
import type { LeftOutCode } from '../snapshot/left-out.ts';

/**
 * What to do about what a listing left out. Whatever may hide whole variants is an error: a registry is not in order
 * because nothing of it could be seen.
 */
export const leftOutRemedies: Readonly<
  Record<LeftOutCode, { readonly severity: Problem['severity']; readonly remedy: string }>
> = {
  'link-skipped': { severity: 'warning', remedy: 'Put the files themselves in the registry.' },
  'submodule-skipped': { severity: 'warning', remedy: 'Put the files themselves in the registry.' },
  'special-skipped': { severity: 'warning', remedy: 'Put the files themselves in the registry.' },
  'folder-unreadable': {
    severity: 'error',
    remedy: 'Check that you may read it: nothing in it was checked.',
  },
  'folder-missing': {
    severity: 'error',
    remedy: 'Fetch it (this may be a partial clone): nothing in it was checked.',
  },
  'folder-damaged': {
    severity: 'error',
    remedy: 'Check the repository with git fsck: nothing in it was checked.',
  },
  'too-deep': { severity: 'error', remedy: 'Move its files up: nothing in it was checked.' },
};
