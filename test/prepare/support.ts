import type { AddedLine, Preparation } from '@kinprint/registry';
import { expect } from 'vitest';
import { runCli } from '../support/run-cli.ts';
import { objections } from '../support/schemas.ts';

export interface Prepared extends Preparation {
  readonly added: readonly AddedLine[];
}

export interface PrepareOutcome {
  readonly exit: number;
  readonly answer: Prepared;
  readonly text: string;
}

/** Runs the command for programs and for people; both outputs keep their form. */
export async function prepare(folder: string, ...args: string[]): Promise<PrepareOutcome> {
  const { code, out, err } = await runCli(['prepare', '--json', ...args], folder);
  expect(err).toBe('');
  const answer = JSON.parse(out) as Prepared;
  expect(objections('prepare', answer)).toEqual([]);
  const { code: again, out: text } = await runCli(
    ['prepare', ...args.filter(each => each !== '--add')],
    folder,
  );
  expect(again).toBe(code);
  // Lines to put in stand unbroken.
  const verbatim = new Set(
    answer.variants.flatMap(({ missing }) => missing.flatMap(line => line.text.split('\n'))),
  );
  for (const line of text.split('\n'))
    if (!verbatim.has(line)) expect([...line].length, line).toBeLessThanOrEqual(80);
  return { exit: code, answer, text };
}
