import type { CommitInfo, Person } from '../source/types.ts';

/** Who made commits, in the order of their first one; a name is one person, whatever the addresses. */
export function peopleOf(commits: readonly CommitInfo[]): Person[] {
  const found = new Map<string, Person>();
  for (const { author, others } of commits)
    for (const person of [author, ...others]) {
      const key = person.name.toLowerCase();
      if (!found.has(key)) found.set(key, person);
    }
  return [...found.values()].slice(0, 500);
}
