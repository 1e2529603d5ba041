// Writes THIRD-PARTY.md: what others made that comes with an installation, by license, and the credit that is owed.
//
//   node tools/third-party.mjs             writes it anew (also a part of npm run generate)
//   node tools/third-party.mjs --print     prints it, for the test that compares
//
// Made from the lock file alone, so that it is the same on every machine.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { root } from './setup.mjs';

/**
 * Licenses whose text asks for more than that it and the copyright notice come along, as they do in each package: the
 * credit for what is under them. A package under another one stops this tool until somebody has looked.
 */
const credits = {
  'spdx-exceptions': [
    '**SPDX License Exceptions**, the list of license exceptions in the npm package `spdx-exceptions`, from the SPDX',
    'specification. Copyright © Linux Foundation and its Contributors; packaged by Kyle E. Mitchell',
    '(https://github.com/kemitchell/spdx-exceptions.json). Licensed under the Creative Commons Attribution 3.0 Unported',
    'license (CC-BY-3.0, https://creativecommons.org/licenses/by/3.0/). Used unchanged: kinprint reads the ids in it.',
  ],
};
const plain = new Set([
  'MIT',
  'ISC',
  'Apache-2.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  '0BSD',
  'CC0-1.0',
  'Unlicense',
  'MPL-2.0',
  'Zlib',
  'BlueOak-1.0.0',
]);

const { packages } = JSON.parse(readFileSync(path.join(root, 'package-lock.json'), 'utf8'));
const shipped = Object.entries(packages)
  .filter(
    ([place, entry]) => place.includes('node_modules/') && !entry.link && !entry.dev && !entry.devOptional,
  )
  // Of these npm takes what fits the machine; none is needed.
  .filter(([, entry]) => !entry.optional)
  .map(([place, { version, license }]) => ({
    name: place.replace(/^.*node_modules\//, ''),
    version,
    license: license?.replace(/^\((.*)\)$/, '$1'),
  }));

const byLicense = new Map();
for (const { name, version, license } of shipped) {
  const known = license?.split(/ AND | OR /).every(id => plain.has(id)) || credits[name];
  if (!known)
    throw new Error(
      `${name} ${version} is under '${license}': look at what that asks, then tell tools/third-party.mjs.`,
    );
  byLicense.set(license, new Set([...(byLicense.get(license) ?? []), `${name} ${version}`]));
}

const order = (a, b) => (a < b ? -1 : 1);
const wrapped = words => {
  const lines = [''];
  for (const word of words) {
    const line = `${lines.at(-1)}${lines.at(-1) === '' ? '' : ' '}${word}`;
    if (line.length > 118) lines.push(word);
    else lines[lines.length - 1] = line;
  }
  return lines.join('\n');
};
const owed = shipped.filter(({ name }) => credits[name]);
const text = `# Third parties

Made by \`npm run generate\` from the lock file. kinprint itself is under the MIT license (LICENSE).

## Credit

${owed.map(({ name, version }) => `${credits[name].join('\n')}\nVersion ${version}.`).join('\n\n')}

Texts of licenses that \`kinprint credits --format reuse\` writes are those of the SPDX license list, from the npm package
\`spdx-license-list\` (CC0-1.0); each text is its authors'. Sources of the published facts and schemas that tests check
against stand in the files NOTICE.md below \`test/reference\`, those of test meshes in \`test/fixtures/meshes/NOTICE\`.

## What an installation brings along

Packages of npm's registry, each with its license text and copyright notice in its own folder. Those only for development
are left out, and those that are optional.

${[...byLicense]
  .sort(([a], [b]) => order(a, b))
  .map(
    ([license, names]) =>
      `**${license}** (${names.size})\n\n${wrapped([...names].sort(order).map((name, k, all) => `${name}${k < all.length - 1 ? ',' : '.'}`))}`,
  )
  .join('\n\n')}
`;

if (process.argv.includes('--print')) process.stdout.write(text);
else writeFileSync(path.join(root, 'THIRD-PARTY.md'), text);
