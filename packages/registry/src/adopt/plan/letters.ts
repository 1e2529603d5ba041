import type { Analysis, FoundPart } from '../judge/analyze.ts';
import type { Run } from '../history/letters.ts';
import type { SourceFile } from '../source/types.ts';
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
  const commits = states.slice(run.first, run.last + 1).flatMap(state => state.commit ?? []);
  return {
    state: run.first,
    commits,
    license: license.expression,
    authors: peopleOf(states.slice(0, run.last + 1).flatMap(state => state.commit ?? [])),
    derivations: [],
    parts: [...parts.values()].flatMap((known): PartPlan[] => {
      const version = known.part.line.versions.find(v => v.state === run.last);
      if (version === undefined) return [];
      return [
        {
          id: known.id,
          title: known.title,
          mesh: placed(version.file.path),
          source: modelsOf(version.file.path, models).models.map(placed),
          unit: known.part.unit,
          hand: known.part.hand.hand,
          license: license.of(version.file.path),
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

/** The variant's files in one state. */
export function sideOf({ analysis, group, parts }: LetterSources, state: number): ChangeSide {
  const ids = idsAt(parts, state);
  const files = analysis.states[state].files.filter(
    file => file.problem === null && (file.kind === 'mesh' ? ids.has(file.path) : group.holdsFile(file.path)),
  );
  return { files, id: path => ids.get(path) ?? null };
}

/** Whether a file of a state belongs to the variant. */
export function belongsTo(sources: LetterSources): (file: SourceFile, state: number) => boolean {
  const known = new Map<number, ChangeSide>();
  return (file, state) => {
    const side = known.get(state) ?? sideOf(sources, state);
    known.set(state, side);
    return file.kind === 'mesh' ? side.id(file.path) !== null : side.files.includes(file);
  };
}

function idsAt(parts: ReadonlyMap<number, VariantPart>, state: number): Map<string, string> {
  return new Map(
    [...parts.values()].flatMap(({ id, part }) => {
      const version = part.line.versions.find(v => v.state === state);
      return version === undefined ? [] : [[version.file.path, id] as const];
    }),
  );
}
