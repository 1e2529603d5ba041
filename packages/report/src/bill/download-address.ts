import type { BillRevision } from '@kinprint/registry';
import { webAddress } from '../credits/web-address.ts';

/**
 * Where a revision can be had with git, in the form of SPDX 2.3, clause 7.7: `git+https://host/repo@COMMIT#folder`, without
 * commit and folder where its files were read from a working copy; null where no address is known.
 */
export function downloadAddress({ url: published, folder, commit }: BillRevision): string | null {
  const url = webAddress(published);
  if (url === null || /[@#]/.test(url)) return null;
  if (folder === null || commit === null) return `git+${url}`;
  return `git+${url}@${commit}#${folder.toWellFormed().split('/').map(encodeURIComponent).join('/')}`;
}
