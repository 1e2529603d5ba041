import type { Bill, BillFile, BillRevision, ReuseRequest } from '@kinprint/registry';
import type { Credits } from '@kinprint/license';
import { creditsPlain } from '../credits/credits-plain.ts';
import { namesOf } from './copyright.ts';
import { fileLicense } from './stated-license.ts';

export interface ReusePlan extends ReuseRequest {
  /** What keeps the folder from conforming, in sentences. */
  readonly problems: readonly string[];
}

/**
 * What REUSE 3.3 asks to lie beside a revision's files: for every covered file one with `.license` at the end that names
 * the copyright holders and the license, as a mesh can hold no comment, and the text of every license used. Authors of
 * older works are named as well, as their work is still in it. The attribution comes along as a file.
 */
export function reusePlan(bill: Bill, credits: Credits): ReusePlan {
  const [main] = bill.revisions;
  const files = main.files ?? [];
  const names = new Set(files.map(file => file.path));
  const covered = files.filter(file => isCovered(file) && !names.has(`${file.path}.license`));
  const problems: string[] = [];
  const licenses = new Set<string>();
  const texts = covered.map(file => {
    const text = notice(bill, file, licenses, problems);
    return { path: `${file.path}.license`, text };
  });
  // An attribution of ours is the registry's own words, under the license of the manifest that they are from.
  const attribution = names.has('ATTRIBUTION.txt')
    ? []
    : [
        { path: 'ATTRIBUTION.txt', text: `${creditsPlain(credits)}\n` },
        { path: 'ATTRIBUTION.txt.license', text: notice(bill, wholeFile, licenses, []) },
      ];
  const used = [...licenses].sort();
  for (const file of names) {
    const id = /^LICENSES\/(.+?)\.(txt|md)$/.exec(file)?.[1];
    if (id !== undefined && !licenses.has(id))
      problems.push(`${file} is the text of a license that no file is under.`);
  }
  return {
    texts: [...texts, ...attribution, ...ownTexts(bill, used)],
    licenses: used,
    problems: [...new Set(problems)],
  };
}

/** Stands for what belongs to the whole. */
const wholeFile: BillFile = { path: '', size: 1, sha256: '', sha1: '', parts: [] };

/** Which files REUSE asks about (specification 3.3, "Covered files"). */
function isCovered({ path, size }: BillFile): boolean {
  const name = path.slice(path.lastIndexOf('/') + 1);
  const exempt =
    /^(LICEN[CS]E|COPYING)([-.].*)?$/.test(name) ||
    /\.(license|spdx|spdx\.(rdf|json|xml|ya?ml))$/.test(name) ||
    name === 'REUSE.toml' ||
    path.startsWith('LICENSES/');
  return size > 0 && !exempt;
}

function notice(bill: Bill, file: BillFile, licenses: Set<string>, problems: string[]): string {
  const [main, ...older] = bill.revisions;
  const stated = fileLicense(main, file);
  const years = new Map<string, Set<string>>();
  const add = (revision: BillRevision, names: readonly string[]): void => {
    for (const name of names) {
      const known = years.get(name) ?? new Set();
      if (revision.date !== null) known.add(revision.date.slice(0, 4));
      years.set(name, known);
    }
  };
  add(main, namesOf(main, file));
  for (const revision of older) add(revision, namesOf(revision));
  const whole = file === wholeFile ? main.id : file.path;
  if (years.size === 0) problems.push(`Nobody is named as author of ${whole}.`);
  if (stated.kind === 'none') problems.push(`No license is stated for ${whole}.`);
  if (stated.kind === 'wrong')
    problems.push(`'${stated.text}', the license stated for ${whole}, is no license expression of SPDX 2.3.`);
  const lines = [...years].map(([name, when]) => {
    const text = [[...when].sort().join(', '), name].filter(Boolean).join(' ');
    return `SPDX-FileCopyrightText: ${tagless(text)}`;
  });
  if (stated.kind === 'expression') {
    lines.push('', `SPDX-License-Identifier: ${stated.text}`);
    for (const { id, exception } of stated.terms) {
      licenses.add(id);
      if (exception !== null) licenses.add(exception);
    }
  }
  return `${lines.join('\n')}\n`;
}

/** A name is no place for tags: tools look for them anywhere in a line. The hyphen becomes another sign for one. */
function tagless(text: string): string {
  return text.replace(/(SPDX|REUSE)-(?=\w)/gi, '$1\u2010');
}

/** Texts of licenses outside the SPDX list, from the nearest revision that brings one along. */
function ownTexts({ revisions }: Bill, used: readonly string[]): { path: string; text: string }[] {
  const [main] = revisions;
  return used.flatMap(id => {
    const text = revisions.map(revision => revision.own_texts[id]).find(own => own !== undefined);
    if (text === undefined || main.own_texts[id] !== undefined) return [];
    return [{ path: `LICENSES/${id}.txt`, text }];
  });
}
