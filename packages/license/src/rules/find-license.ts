import { derived, memory, read } from './basis.ts';
import { ccLicenses } from './cc.ts';
import { otherLicenses } from './others.ts';
import type { License, Verdict } from './types.ts';

/** Every license whose rules are known. */
export const licenses: readonly License[] = [...ccLicenses, ...otherLicenses];

const byId = new Map(licenses.map(license => [license.id, license]));
const nothing = derived(
  'copyright without a license',
  'Creative Commons FAQ, section on getting a copyright',
);

/** What holds where no license is named: nothing is granted. */
export const reserved: License = {
  id: 'LicenseRef-AllRightsReserved',
  title: 'All rights reserved',
  url: null,
  family: 'reserved',
  elements: null,
  version: '',
  port: '',
  adapt: { may: 'no', why: 'No license is stated, so nothing is granted.', ...nothing },
  commercial: { may: false, why: 'No license is stated, so nothing is granted.', ...nothing },
  collect: { answer: 'not-permitted', why: 'No license is stated, so nothing is granted.', ...nothing },
  duties: [],
};

/** Names by which people say that nothing is granted. Source: Open Know-How schema, for the first two. */
const closed = new Set(
  ['LicenseRef-AllRightsReserved', 'LicenseRef-NONE', 'LicenseRef-proprietary'].map(id => id.toLowerCase()),
);

/** The rules of one license of one version; for ids that the table does not have, rules that say so. */
export function findLicense(id: string): License {
  if (closed.has(id.toLowerCase())) return reserved;
  return byId.get(id) ?? unknownLicense(id);
}

function unknownLicense(id: string): License {
  const basis = memory('none', 'no rules for this license are known here');
  const why = `What ${id} asks is not in the table of rules: read its text.`;
  const ask: Verdict = { answer: 'ask', why, ...basis };
  return {
    id,
    title: id,
    url: id.includes('Ref-') ? null : `https://spdx.org/licenses/${id}.html`,
    family: 'unknown',
    elements: null,
    version: '',
    port: '',
    adapt: { may: 'share', why, ...basis },
    commercial: { may: false, why, ...basis },
    collect: ask,
    // Nearly all licenses ask for it, and it is never wrong.
    duties: [
      {
        kind: 'credit',
        when: 'share',
        text: `Name the author, unless the text of ${id} does not ask for it.`,
        required: false,
        ...basis,
      },
    ],
  };
}

export const pdmOnNewWork: Verdict = {
  answer: 'not-recommended',
  why: 'The public domain mark tells of works that are free of copyright already; use CC0-1.0 or a license for what is new.',
  ...read('section on works in the public domain', 'Creative Commons FAQ'),
};
