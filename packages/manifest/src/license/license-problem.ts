/// <reference types="./spdx-expression-parse.d.ts" />
import parse from 'spdx-expression-parse';
import deprecated from 'spdx-license-ids/deprecated.json' with { type: 'json' };
import ids from 'spdx-license-ids/index.json' with { type: 'json' };
import { nearest } from '../read/nearest.ts';
import { everydayNames, replacements } from './replacements.ts';

/** What is wrong with a license expression. */
export interface LicenseProblem {
  readonly code: 'license-unknown' | 'license-deprecated' | 'license-syntax';
  readonly text: string;
  readonly remedy: string;
}

const known = new Set<string>(ids);
const old = new Set<string>(deprecated);
const plainIds = new Map(ids.map(id => [plain(id), id]));
const longest = 500;

/**
 * What is wrong with the syntax of a license expression; null when it is an SPDX expression (SPDX specification 2.3,
 * annex D) of ids that the list of licenses has today. `LicenseRef-…` is allowed. What a license permits is not told.
 */
export function licenseProblem(expression: string): LicenseProblem | null {
  if (expression.length > longest)
    return syntax('The license expression is too long.', `Use at most ${longest} characters.`);
  const words = expression.match(/[()]|[^\s()]+/g) ?? [];
  if (words.length === 0)
    return syntax('The license is empty.', "Write an SPDX id, e.g. 'CC-BY-SA-4.0', or remove the key.");
  // First of all, a name that is written almost like an id.
  const whole = plainIds.get(plain(expression)) ?? everydayNames.get(plain(expression));
  if (whole !== undefined && whole !== expression) return unknown(expression, whole);
  let afterWith = false;
  for (const word of words) {
    const problem = afterWith ? exceptionProblem(word) : wordProblem(word);
    if (problem !== null) return problem;
    afterWith = word === 'WITH';
  }
  if (parses(expression)) return null;
  return syntax(`'${expression}' is no license expression.`, shapeRemedy(words));
}

function wordProblem(word: string): LicenseProblem | null {
  if (/^(AND|OR|WITH|[()])$/.test(word)) return null;
  if (/^(and|or|with)$/i.test(word))
    return syntax(`'${word}' must be written in capitals.`, `Write ${word.toUpperCase()}.`);
  if (/^(DocumentRef-[A-Za-z0-9.-]+:)?LicenseRef-[A-Za-z0-9.-]+$/.test(word)) return null;
  const id = word.endsWith('+') ? word.slice(0, -1) : word;
  if (known.has(id)) return null;
  if (old.has(word) || old.has(id)) {
    const instead = replacements[word] ?? replacements[id];
    const remedy =
      instead === undefined
        ? 'Choose the id that takes its place in the SPDX license list.'
        : `Write ${instead}.`;
    return { code: 'license-deprecated', text: `The license id '${word}' is out of use.`, remedy };
  }
  return unknown(word, plainIds.get(plain(word)) ?? everydayNames.get(plain(word)) ?? nearest(word, ids));
}

function exceptionProblem(word: string): LicenseProblem | null {
  if (parses(`MIT WITH ${word}`)) return null;
  return {
    code: 'license-unknown',
    text: `'${word}' is no license exception.`,
    remedy:
      "After WITH write an id of the SPDX exception list, letter case as there, e.g. 'GPL-3.0-only WITH GCC-exception-3.1'.",
  };
}

function unknown(word: string, hint: string | null): LicenseProblem {
  return {
    code: 'license-unknown',
    text: `'${word}' is no id of the SPDX license list.${hint === null ? '' : ` Did you mean ${hint}?`}`,
    remedy:
      hint === null
        ? "Write an id of the list, e.g. 'CC-BY-SA-4.0', or 'LicenseRef-' and a name of your own."
        : `Write ${hint}, if that is what was meant.`,
  };
}

function syntax(text: string, remedy: string): LicenseProblem {
  return { code: 'license-syntax', text, remedy };
}

function shapeRemedy(words: readonly string[]): string {
  const open = words.filter(word => word === '(').length;
  if (open !== words.filter(word => word === ')').length) return 'Close each parenthesis.';
  const last = words.at(-1) ?? '';
  if (/^(AND|OR|WITH)$/.test(last)) return `Something is missing after ${last}.`;
  if (/^(AND|OR|WITH)$/.test(words[0] ?? '')) return `Something is missing before ${words[0]}.`;
  return 'Join ids by AND, OR or WITH; a plus sign directly after the id.';
}

function parses(expression: string): boolean {
  try {
    parse(expression);
    return true;
  } catch {
    // Whatever it throws (bare TypeErrors among it) says no more than this.
    return false;
  }
}

function plain(id: string): string {
  return id.toLowerCase().replace(/[^a-z0-9.+()]/g, '');
}
