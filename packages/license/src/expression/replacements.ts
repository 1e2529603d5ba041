/**
 * Ids out of use that mean exactly what another id means. A bare `GPL-3.0` is read as that version only, which grants
 * least: nobody is led to believe in a later version that the author did not offer.
 * Source: SPDX license list, notes of the deprecated ids, from memory.
 */
export const replacements: Readonly<Record<string, string>> = Object.fromEntries(
  [
    'GPL-1.0',
    'GPL-2.0',
    'GPL-3.0',
    'LGPL-2.0',
    'LGPL-2.1',
    'LGPL-3.0',
    'AGPL-1.0',
    'AGPL-3.0',
    'GFDL-1.1',
    'GFDL-1.2',
    'GFDL-1.3',
  ].flatMap(id => [
    [id, `${id}-only`],
    [`${id}+`, `${id}-or-later`],
  ]),
);
