import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const at = (file: string): URL => new URL(`../../${file}`, import.meta.url);
const page = readFileSync(at('THIRD-PARTY.md'), 'utf8');
interface Manifest {
  readonly license?: string;
  readonly version: string;
  readonly dependencies?: Readonly<Record<string, string>>;
}
const manifest = (file: string): Manifest => JSON.parse(readFileSync(at(file), 'utf8')) as Manifest;

describe('THIRD-PARTY.md', () => {
  it('is what npm run generate writes', () => {
    const made = execFileSync(process.execPath, ['tools/third-party.mjs', '--print'], {
      cwd: at('.'),
      encoding: 'utf8',
    });
    expect(page).toBe(made);
  });

  it('lists every dependency of every package, with the license that the package itself states', () => {
    const packages = ['mesh', 'manifest', 'solid', 'compare', 'license', 'registry', 'report', 'cli'];
    const found = packages.flatMap(name =>
      Object.keys(manifest(`packages/${name}/package.json`).dependencies ?? {})
        .filter(other => !other.startsWith('@kinprint/'))
        .map(other => [`packages/${name}/node_modules/${other}`, `node_modules/${other}`, other] as const),
    );
    expect(found.length).toBeGreaterThan(8);
    for (const [nearer, farther, name] of found) {
      const { license = '', version } = manifest(
        `${existsSync(at(nearer)) ? nearer : farther}/package.json`,
      );
      const section = page
        .slice(page.indexOf(`**${license}** (`))
        .split('\n\n**')[0]
        .replace(/\s+/g, ' ');
      expect(section, `${name} under ${license}`).toMatch(
        new RegExp(`[ )]${name} ${version.replaceAll('.', '\\.')}[,.]`),
      );
    }
  });

  it('credits the exception list as CC-BY-3.0 4(b) asks: author, title, source, license, changes', () => {
    expect(manifest('node_modules/spdx-exceptions/package.json').license).toBe('CC-BY-3.0');
    const credit = page.slice(page.indexOf('## Credit'), page.indexOf('## What')).replace(/\s+/g, ' ');
    for (const words of [
      'SPDX License Exceptions',
      'Copyright © Linux Foundation and its Contributors',
      'https://github.com/kemitchell/spdx-exceptions.json',
      'https://creativecommons.org/licenses/by/3.0/',
      'Used unchanged',
    ])
      expect(credit).toContain(words);
  });
});
