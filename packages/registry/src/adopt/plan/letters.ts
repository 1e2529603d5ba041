import type { Analysis, FoundPart } from '../judge/analyze.ts';
import type { Run } from '../history/letters.ts';
import { fileAt } from '../history/part-lines.ts';
import type { CommitInfo, SourceFile } from '../source/types.ts';
import { changeLines, type ChangeSide } from './changes.ts';
import type { Group } from './groups.ts';
import type { StateLicense } from './licenses.ts';
import { modelsOf } from './models.ts';
import { placesBelow } from './names.ts';
import { peopleOf } from './people.ts';
import type { FilePlan, LetterPlan, PartPlan } from './types.ts';

/** What every letter of a variant is made from. */
export interface LetterSources {
  readonly analysis: Analysis;
  readonly group: Group;
  /** The parts that belong to the variant, with what is the same in every letter. */
  readonly parts: ReadonlyMap<number, VariantPart>;
  /** Of each state. */
  readonly licenses: readonly StateLicense[];
}

export interface VariantPart {
  readonly part: FoundPart;
  readonly id: string;
  readonly title: string | null;
  readonly unsettled: string | null;
}

/** Plans the revision that a run of states becomes; its content is that of the last of them. */
export function planLetter(sources: LetterSources, run: Run, isFirst: boolean): LetterPlan {
  const { analysis, parts, licenses } = sources;
  const { states, steps } = analysis;
  const side = sideOf(sources, run.last);
  const meshes = side.files.filter(file => file.kind === 'mesh');
  const models = side.files.filter(file => file.kind === 'model').map(file => file.path);
  const places = new Map([
    ...placesBelow(
      'parts',
      meshes.map(file => file.path),
    ),
    ...placesBelow('source', models),
    ...placesBelow(
      '',
      side.files.filter(file => file.kind === 'license' || file.kind === 'readme').map(file => file.path),
    ),
  ]);
  const placed = (path: string): string => places.get(path) ?? path;
  const license = licenses[run.last];
  return {
    state: run.first,
    commits: commitsOf(sources, run.first, run.last),
    license: license.expression,
    authors: peopleOf(commitsOf(sources, 0, run.last)),
    derivations: [],
    parts: [...parts.values()].flatMap((known): PartPlan[] => {
      const file = fileAt(known.part.line, run.last);
      if (file === null) return [];
      return [
        {
          id: known.id,
          title: known.title,
          mesh: placed(file.path),
          source: modelsOf(file.path, models).models.map(placed),
          unit: known.part.unit,
          hand: known.part.hand.hand,
          license: license.of(file.path),
          unsettled: known.unsettled,
        },
      ];
    }),
    files: side.files.map(({ path }): FilePlan => ({ from: path, state: run.last, to: placed(path) })),
    changes: isFirst
      ? (states[run.first].commit?.subject ?? '') === ''
        ? []
        : [states[run.first].commit?.subject ?? '']
      : changeLines(
          states[run.first].commit?.subject ?? null,
          steps[run.first - 1],
          sideOf(sources, run.first - 1),
          sideOf(sources, run.first),
        ),
  };
}

/** The commits of some states that changed a file of the variant: others are of no concern to it. */
function commitsOf(sources: LetterSources, first: number, last: number): CommitInfo[] {
  const keyAt = (state: number): string => (state < 0 ? '' : sideOf(sources, state).key);
  const commits: CommitInfo[] = [];
  for (let state = first; state <= last; state++) {
    const { commit } = sources.analysis.states[state];
    if (commit !== null && keyAt(state) !== keyAt(state - 1)) commits.push(commit);
  }
  return commits;
}

/** Whether a file of a state belongs to the variant. */
export function belongsTo(sources: LetterSources): (file: SourceFile, state: number) => boolean {
  return (file, state) => sideOf(sources, state).all.has(file);
}

interface Side extends ChangeSide {
  readonly all: ReadonlySet<SourceFile>;
  /** The same for the same files. */
  readonly key: string;
}

/** Made once for each state: every letter asks for those of all states before it. */
const kept = new WeakMap<LetterSources, Map<number, Side>>();

function sideOf(sources: LetterSources, state: number): Side {
  const sides = kept.get(sources) ?? new Map<number, Side>();
  kept.set(sources, sides);
  const side = sides.get(state) ?? makeSide(sources, state);
  sides.set(state, side);
  return side;
}

function makeSide({ analysis, group, parts }: LetterSources, state: number): Side {
  const ids = new Map<string, string>();
  for (const { id, part } of parts.values()) {
    const file = fileAt(part.line, state);
    if (file !== null) ids.set(file.path, id);
  }
  const files = analysis.states[state].files.filter(
    file => file.problem === null && (file.kind === 'mesh' ? ids.has(file.path) : group.holdsFile(file.path)),
  );
  return {
    files,
    all: new Set(files),
    key: files.map(file => `${file.path} ${file.digest ?? ''}`).join('\0'),
    id: path => ids.get(path) ?? null,
  };
}
