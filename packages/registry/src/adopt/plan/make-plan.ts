import { oneLine } from '../source/commit-object.ts';
import { readAndClose } from '../../snapshot/read-and-close.ts';
import { adoptDefaults } from '../adopt-defaults.ts';
import type { Analysis } from '../judge/analyze.ts';
import { foldStates } from '../history/letters.ts';
import type { Source, SourceFile } from '../source/types.ts';
import { derivationOf, type DraftVariant } from './derivations.ts';
import { groupsOf, type Group } from './groups.ts';
import { belongsTo, planLetter, type LetterSources } from './letters.ts';
import { licenseOf, type StateLicense } from './licenses.ts';
import { modelsOf } from './models.ts';
import { idOf, titleOf } from './names.ts';
import { variantParts } from './parts.ts';
import { readReadme, type ReadmeFacts } from './readme.ts';
import { questionCodes, type AdoptPlan, type LetterPlan, type Question, type VariantPlan } from './types.ts';

export interface PlanOptions {
  /** The name of the device's folder; made from the source's where left out. */
  readonly device?: string | undefined;
  /** One variant, whatever sizes and hands were found. */
  readonly oneVariant?: boolean;
  /** Whether a license expression is one that a manifest may hold. */
  readonly validLicense: (expression: string) => boolean;
}

/** Decides what becomes of what was found. Reads nothing but licenses and READMEs, and writes nothing. */
export async function makePlan(source: Source, analysis: Analysis, options: PlanOptions): Promise<AdoptPlan> {
  const { states } = analysis;
  const read = textReader();
  const licenses = await Promise.all(states.map(state => licenseOf(state, read, options.validLicense)));
  const readme = await readmeOf(states[states.length - 1].files, read);
  const title = readme.title ?? titleOf(source.folder);
  const questions: Question[] = [];
  const drafts = groupsOf(analysis, options.oneVariant === true).flatMap(group => {
    const draft = draftOf(analysis, group, licenses);
    if (draft === null) return [];
    questions.push(...draft.questions);
    return [draft];
  });
  const variants = drafts.map((draft, i): VariantPlan => {
    const letters = draft.runs.map((run, k) => planLetter(draft.sources, run, k === 0));
    const base = drafts[0];
    const derivation = i === 0 ? null : derivationOf(draft, base);
    if (derivation !== null && 'code' in derivation) questions.push(derivation);
    const derivations = derivation === null || 'code' in derivation ? [] : [derivation];
    if (derivations.length > 0)
      questions.push({
        code: 'derivation',
        variant: draft.sources.group.id,
        part: null,
        text: `Was it made from '${derivations[0].variant}'? ${derivations[0].unsettled}`,
      });
    return {
      id: draft.sources.group.id,
      title: variantTitle(title, draft.sources.group, analysis),
      letters: letters.map((letter): LetterPlan => ({ ...letter, derivations })),
    };
  });
  questions.push(...wholeQuestions(analysis, licenses, readme, variants));
  return {
    source: {
      name: source.name,
      folder: source.folder,
      commit: states.at(-1)?.commit?.id ?? null,
      states: states.length,
    },
    device: {
      id: options.device ?? (idOf(source.folder) || 'device'),
      title,
      purpose: readme.purpose,
      cautions: readme.cautions,
    },
    variants,
    questions: sorted(questions),
    leftOut: analysis.leftOut,
    otherFiles: source.otherFiles,
    notes: [...analysis.notes, ...drafts.flatMap(draft => draft.notes)],
  };
}

interface Draft extends DraftVariant {
  readonly questions: readonly Question[];
  readonly notes: AdoptPlan['notes'];
}

function draftOf(analysis: Analysis, group: Group, licenses: readonly StateLicense[]): Draft | null {
  const { parts, questions } = variantParts(analysis, group);
  const sources: LetterSources = { analysis, group, parts, licenses };
  const { runs, joined } = foldStates(analysis.states, analysis.steps, belongsTo(sources));
  if (runs.length === 0) return null;
  const note = {
    code: 'letters-joined',
    text: `${group.id}: there are ${adoptDefaults.maxLetters} letters at most, so the oldest ${joined + 1} revisions are taken together as the first.`,
  };
  return {
    sources,
    runs,
    questions: [...questions, ...modelQuestions(analysis, sources)],
    notes: joined > 0 ? [note] : [],
  };
}

/** Models whose mesh was told by the beginning of a name, or not at all. */
function modelQuestions({ states }: Analysis, { group, parts }: LetterSources): Question[] {
  const models = states[states.length - 1].files
    .filter(file => file.kind === 'model' && file.problem === null && group.holdsFile(file.path))
    .map(file => file.path);
  const used = new Set<string>();
  const questions: Question[] = [];
  for (const { part, id } of parts.values()) {
    if (!part.present) continue;
    const match = modelsOf(part.entry.path, models);
    for (const model of match.models) used.add(model);
    if (match.loose && match.models.length > 0)
      questions.push({
        code: 'source',
        variant: group.id,
        part: id,
        text: `Is it made from ${match.models.join(', ')}? Only the beginning of the name says so.`,
      });
  }
  for (const model of models.filter(path => !used.has(path)))
    questions.push({
      code: 'source',
      variant: group.id,
      part: null,
      text: `Which part is made from ${model}?`,
    });
  return questions;
}

/** `scale-80-4` is 80.4 %. */
function scaleWords(label: string): string {
  return `scaled to ${label.replace('scale-', '').replace('-', '.')} %`;
}

function variantTitle(title: string, { size, hand }: Group, { sizes }: Analysis): string {
  const words = [size === null ? null : sizes.by === 'shapes' ? scaleWords(size) : size, hand];
  const added = words.filter(word => word !== null).join(', ');
  return added === '' ? oneLine(title, 200) : `${oneLine(title, 150)}, ${added}`;
}

function wholeQuestions(
  analysis: Analysis,
  licenses: readonly StateLicense[],
  readme: ReadmeFacts,
  variants: readonly VariantPlan[],
): Question[] {
  const whole = (code: Question['code'], text: string): Question => ({
    code,
    variant: null,
    part: null,
    text,
  });
  const license = licenses.at(-1);
  const authors = variants[0]?.letters.at(-1)?.authors ?? [];
  const { sizes } = analysis;
  return [
    ...(license?.question === null || license === undefined ? [] : [whole('license', license.question)]),
    whole(
      'authors',
      authors.length === 0
        ? 'Who made it, and in which roles?'
        : `Are ${authors
            .slice(0, 5)
            .map(person => person.name)
            .join(
              ', ',
            )}${authors.length > 5 ? ` and ${authors.length - 5} more` : ''} all who made it, and in which roles? git names only who committed.`,
    ),
    ...(variants.length > 1 && sizes.labels.length > 1
      ? [
          whole(
            'size',
            `Are ${sizes.labels.join(', ')} sizes of one device? ${sizes.by === 'names' ? 'Names say so, and the shapes bear it out.' : 'They are scaled copies.'} Which body measure do they follow?`,
          ),
        ]
      : []),
    whole(
      'purpose',
      readme.purpose === null
        ? 'What does it do, for whom, under which conditions?'
        : 'Is the first paragraph of the README what it does, for whom, under which conditions?',
    ),
    whole(
      'cautions',
      readme.cautions.length === 0
        ? 'Which cautions belong with it? The README names none that are marked as such.'
        : 'Are these all the cautions? They are those that the README marks as such.',
    ),
    ...(analysis.leftOut.length === 0
      ? []
      : [
          whole(
            'left-out',
            `Are these of use? They were left out: ${analysis.leftOut
              .slice(0, 5)
              .map(file => file.path)
              .join(', ')}${analysis.leftOut.length > 5 ? ` and ${analysis.leftOut.length - 5} more` : ''}.`,
          ),
        ]),
  ];
}

function sorted(questions: readonly Question[]): Question[] {
  const rank = (question: Question): number => questionCodes.indexOf(question.code);
  return questions
    .map((question, i) => ({ question, i }))
    .sort((a, b) => rank(a.question) - rank(b.question) || a.i - b.i)
    .map(({ question }) => question);
}

async function readmeOf(
  files: readonly SourceFile[],
  read: (file: SourceFile) => Promise<string | null>,
): Promise<ReadmeFacts> {
  const readmes = files.filter(file => file.kind === 'readme');
  const top = readmes.find(file => !file.path.includes('/')) ?? readmes[0];
  const text = top === undefined ? null : await read(top);
  return readReadme(text ?? '');
}

/** Reads the beginning of text files, each content once. */
function textReader(): (file: SourceFile) => Promise<string | null> {
  const known = new Map<string, Promise<string | null>>();
  const decoder = new TextDecoder();
  async function read(file: SourceFile): Promise<string | null> {
    if (file.problem !== null) return null;
    return decoder.decode(readAndClose(await file.open(), adoptDefaults.maxTextBytes));
  }
  return file => {
    const key = file.digest ?? file.path;
    const text = known.get(key) ?? read(file);
    known.set(key, text);
    return text;
  };
}
