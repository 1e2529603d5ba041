/**
 * What to write instead of ids that the SPDX license list has put out of use, and of common short names. Where a name
 * leaves open whether later versions are meant, both are told: only the author knows.
 * Source: the notes of the SPDX license list on its deprecated ids, from memory.
 */
export const replacements: Readonly<Record<string, string>> = {
  'GPL-1.0': 'GPL-1.0-only or GPL-1.0-or-later',
  'GPL-1.0+': 'GPL-1.0-or-later',
  'GPL-2.0': 'GPL-2.0-only or GPL-2.0-or-later',
  'GPL-2.0+': 'GPL-2.0-or-later',
  'GPL-3.0': 'GPL-3.0-only or GPL-3.0-or-later',
  'GPL-3.0+': 'GPL-3.0-or-later',
  'LGPL-2.0': 'LGPL-2.0-only or LGPL-2.0-or-later',
  'LGPL-2.0+': 'LGPL-2.0-or-later',
  'LGPL-2.1': 'LGPL-2.1-only or LGPL-2.1-or-later',
  'LGPL-2.1+': 'LGPL-2.1-or-later',
  'LGPL-3.0': 'LGPL-3.0-only or LGPL-3.0-or-later',
  'LGPL-3.0+': 'LGPL-3.0-or-later',
  'AGPL-1.0': 'AGPL-1.0-only or AGPL-1.0-or-later',
  'AGPL-3.0': 'AGPL-3.0-only or AGPL-3.0-or-later',
  'GFDL-1.1': 'GFDL-1.1-only or GFDL-1.1-or-later',
  'GFDL-1.2': 'GFDL-1.2-only or GFDL-1.2-or-later',
  'GFDL-1.3': 'GFDL-1.3-only or GFDL-1.3-or-later',
  'GPL-2.0-with-classpath-exception': 'GPL-2.0-only WITH Classpath-exception-2.0',
  'GPL-3.0-with-GCC-exception': 'GPL-3.0-only WITH GCC-exception-3.1',
};

/** Short names that people write, without spaces and hyphens, and the ids that they may mean. Common practice. */
export const everydayNames: ReadonlyMap<string, string> = new Map(
  Object.entries({
    gplv2: 'GPL-2.0-only or GPL-2.0-or-later',
    gpl2: 'GPL-2.0-only or GPL-2.0-or-later',
    gplv3: 'GPL-3.0-only or GPL-3.0-or-later',
    gpl3: 'GPL-3.0-only or GPL-3.0-or-later',
    lgplv3: 'LGPL-3.0-only or LGPL-3.0-or-later',
    agplv3: 'AGPL-3.0-only or AGPL-3.0-or-later',
    apache2: 'Apache-2.0',
    apache: 'Apache-2.0',
    bsd: 'BSD-2-Clause or BSD-3-Clause',
    cc0: 'CC0-1.0',
    ccby: 'CC-BY-4.0',
    ccbysa: 'CC-BY-SA-4.0',
    ccbync: 'CC-BY-NC-4.0',
    ccbyncsa: 'CC-BY-NC-SA-4.0',
    ccbynd: 'CC-BY-ND-4.0',
    ccbyncnd: 'CC-BY-NC-ND-4.0',
  }),
);
