import type { Review } from '@kinprint/registry';
import { plural } from '../terminal/words.ts';
import { comparesTwo } from './compares-two.ts';
import { swapTitles } from './swap-words.ts';

/** The whole answer: a word or a few, a sentence or two, and how good the news is. */
export interface DecisionWords {
  readonly title: string;
  readonly text: string;
  readonly tone: Review['decision'];
}

/** What is decided about a change; of two variants, whether their parts swap. */
export function decisionWords(review: Review): DecisionWords {
  return comparesTwo(review) ? swapDecision(review) : changeDecision(review);
}

function swapDecision(review: Review): DecisionWords {
  const [variant] = review.variants;
  const { answer } = variant.interchange;
  const names = `${review.before.name} and ${review.after.name}`;
  const sentences = {
    yes: `The parts of ${names} serve for each other, as far as files tell.`,
    no: `Not all parts of ${names} serve for each other; see each part for why.`,
    ask: `Files do not tell whether the parts of ${names} serve for each other; see each part for what is open.`,
  };
  const tones = { yes: 'clear', no: 'blocked', ask: 'ask' } as const;
  const found = review.findings.length;
  const more = found === 0 ? '' : ` Besides: ${plural(found, 'finding')} of ${review.after.name}.`;
  return { title: swapTitles[answer], text: `${sentences[answer]}${more}`, tone: tones[answer] };
}

function changeDecision(review: Review): DecisionWords {
  const { blocking, errors, asks, warnings } = review.counts;
  const brings = `${lapseSentence(review)}${review.variants.length === 0 ? ` ${bringsSentence(review)}` : ''}`;
  switch (review.decision) {
    case 'blocked':
      return {
        title: 'Blocked',
        text: `${plural(blocking, 'finding')} ${blocking === 1 ? 'stands' : 'stand'} in the way.${brings}`,
        tone: 'blocked',
      };
    case 'ask': {
      const look = [
        errors > 0 ? plural(errors, 'error') : '',
        asks > 0 ? plural(asks, 'question') : '',
        warnings > 0 ? plural(warnings, 'warning') : '',
      ].filter(Boolean);
      return {
        title: 'To be decided',
        text: `Nothing blocks it; a person must look at ${listed(look)}.${brings}`,
        tone: 'ask',
      };
    }
    case 'clear':
      return {
        title: 'Clear',
        text: `Nothing speaks against it, as far as files tell.${brings === '' ? ` ${bringsSentence(review)}` : brings}`,
        tone: 'clear',
      };
    case 'nothing':
      return { title: 'No change', text: 'There is no change to review.', tone: 'nothing' };
  }
}

/** ` 1 sign-off lapses.`, or nothing: whoever signed must look again, which the counts alone do not say. */
function lapseSentence({ variants }: Review): string {
  const lapsed = variants
    .flatMap(({ signoffs }) => signoffs)
    .filter(({ state }) => state === 'lapses').length;
  return lapsed === 0 ? '' : ` ${plural(lapsed, 'sign-off')} ${lapsed === 1 ? 'lapses' : 'lapse'}.`;
}

/** `It brings 1 changed variant, 2 new ones and 3 sign-offs.`, or `No design changed, so nothing is to be reprinted: …`. */
function bringsSentence({ variants, files }: Review): string {
  const many = (change: Review['variants'][number]['change']): number =>
    variants.filter(each => each.change === change).length;
  const kinds = (kind: Review['files'][number]['kind']): number =>
    files.filter(each => each.kind === kind).length;
  const found: readonly (readonly [number, string, string])[] = [
    [many('changed'), 'changed variant', 'changed variants'],
    [many('added'), 'new variant', 'new variants'],
    [many('removed'), 'variant taken away', 'variants taken away'],
    [kinds('signoff'), 'sign-off', 'sign-offs'],
    [kinds('evidence'), 'record of evidence', 'records of evidence'],
    [kinds('advisory'), 'advisory', 'advisories'],
    [kinds('device'), "device's own document", "devices' own documents"],
    [kinds('registry'), 'change of registry.yaml', 'changes of registry.yaml'],
    [kinds('other'), 'other file', 'other files'],
  ];
  const brought = found.flatMap(([n, one, several]) => (n === 0 ? [] : [plural(n, one, several)]));
  if (variants.length > 0) return `It brings ${listed(brought)}.`;
  return brought.length === 0
    ? 'No design changed, so nothing is to be reprinted.'
    : `No design changed, so nothing is to be reprinted; it brings ${listed(brought)}.`;
}

/** `1 error, 2 questions and 1 warning`. */
function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/** `2 commits; main has 3 more since they parted`, in a few words; nothing where no commits are compared. */
export function commitWords({ before, commits }: Review): string {
  if (commits === null) return '';
  const { after, elsewhere, shared } = commits;
  if (!shared) return `no common commit: compared with ${before.name} as it is`;
  const more = elsewhere === 0 ? '' : `; ${before.name} has ${plural(elsewhere, 'commit')} since they parted`;
  return `${plural(after, 'commit')}${more}`;
}
