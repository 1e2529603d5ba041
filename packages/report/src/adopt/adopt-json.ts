import { letterAt } from '@kinprint/manifest';
import type { AdoptOutcome, LetterPlan } from '@kinprint/registry';

/** `kinprint adopt --json`. */
export function adoptJson({ plan, adopted }: AdoptOutcome): object {
  const { source, device } = plan;
  return {
    schema: 'kinprint:output/adopt/1',
    source: { name: source.name, commit: source.commit, states: source.states },
    device,
    variants: plan.variants.map(variant => {
      const address = `${device.id}/${variant.id}`;
      const revisions = adopted?.revisions.filter(revision => revision.address === address);
      return {
        address,
        title: variant.title,
        revisions: variant.letters.map((letter, i) => ({
          letter: letterAt(i),
          digest: revisions?.[i]?.digest ?? null,
          ...revisionJson(letter, device.id),
        })),
      };
    }),
    questions: plan.questions,
    left_out: plan.leftOut,
    other_files: plan.otherFiles,
    notes: plan.notes,
    adopted:
      adopted === null ? null : { commit: adopted.commit, commits: adopted.commits, notes: adopted.notes },
  };
}

function revisionJson(letter: LetterPlan, device: string): object {
  const first = letter.commits[0];
  return {
    date: first?.date ?? null,
    by: first?.author.name ?? null,
    commits: letter.commits.map(commit => commit.id),
    license: letter.license,
    authors: letter.authors.map(person => person.name),
    derivations: letter.derivations.map(({ variant, letter: index, ...rest }) => ({
      from: `${device}/${variant}@${letterAt(index) ?? ''}`,
      ...rest,
    })),
    parts: letter.parts,
    files: letter.files.map(({ from, to }) => ({ from, to })),
    changes: letter.changes,
  };
}
