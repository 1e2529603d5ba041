import { oneLine } from '../source/commit-object.ts';
import type { AdoptPlan } from '../plan/types.ts';
import type { ReadyLetter } from './letters.ts';

/**
 * What a commit says: which revisions it brings, from which commits of the source, what changed. Letters of one state
 * are one commit.
 */
export function adoptMessage(plan: AdoptPlan, letters: readonly ReadyLetter[]): string {
  const { device, source } = plan;
  const [only] = letters;
  const subject =
    letters.length === 1
      ? `${device.id}/${only.variant.id}: revision ${only.entry.letter}`
      : `${device.id}: revisions ${letters.map(({ variant, entry }) => `${variant.id}@${entry.letter}`).join(', ')}`;
  const commits = [
    ...new Map(
      letters.flatMap(({ plan: letter }) => letter.commits).map(commit => [commit.id, commit]),
    ).values(),
  ];
  const origin =
    commits.length === 0
      ? [`Adopted from the folder ${oneLine(source.folder, 200)}.`]
      : [
          `Adopted from ${oneLine(source.folder, 200)}:`,
          ...commits.map(
            ({ id, date, author, subject: text }) => `- commit ${id}, ${date}, ${author.name}: ${text}`,
          ),
        ];
  const changes = letters.flatMap(({ variant, entry }) => [
    '',
    ...(letters.length === 1 ? [] : [`${variant.id}:`]),
    ...(entry.changes ?? []).map(line => `- ${line}`),
    `Digest: ${entry.digest}`,
  ]);
  return [subject, '', ...origin, ...changes, ''].join('\n');
}
