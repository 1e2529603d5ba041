import type { Bill, BillRevision } from '@kinprint/registry';
import { webAddress } from '../credits/web-address.ts';

/**
 * Where a revision's folder can be had with git, in the form of SPDX 2.3, clause 7.7: `git+https://host/repo@COMMIT#folder`;
 * null where that is not known.
 */
export function downloadAddress(
  { published }: Bill,
  { folder, commit, address }: BillRevision,
): string | null {
  const url = address.includes(':') ? null : webAddress(published);
  if (url === null || folder === null || /[@#]/.test(url)) return null;
  const path = folder.split('/').map(encodeURIComponent).join('/');
  return `git+${url}${commit === null ? '' : `@${commit}`}#${path}`;
}
