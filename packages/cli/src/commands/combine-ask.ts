import type { CombineAnswer, CombineQuestion } from '@kinprint/report';
import type { VariantChoices } from '@kinprint/registry';
import type { Dialog } from '../io.ts';

/**
 * Asks about each open conflict: a, b, both, none or stop; anything else is asked again.
 *
 * @returns the choices with the answers; null when the person stopped, or the input ended
 */
export async function askAbout(
  dialog: Dialog,
  questions: readonly CombineQuestion[],
  choices: VariantChoices,
): Promise<VariantChoices | null> {
  const single: Record<string, CombineAnswer> = { ...choices.single };
  for (const [k, { key, text, answers }] of questions.entries()) {
    const words = `${answers.join(', ')} or stop`;
    let answer: CombineAnswer | undefined;
    const count = `${k + 1} of ${questions.length} open`;
    for (
      let question = `\n${text}\n    ${count}: take ${words}? `;
      answer === undefined;
      question = `    take ${words}? `
    ) {
      const line = await dialog.ask(question);
      const word = line?.trim().toLowerCase();
      if (word === undefined || word === 'stop') return null;
      answer = answers.find(each => each === word);
    }
    single[key] = answer;
  }
  return { ...choices, single };
}

/**
 * Does the work, and as long as conflicts stand open and somebody is there to ask, asks and does it again. The work is
 * to remember what does not depend on the choices.
 *
 * @param open the conflicts that are open after it
 */
export async function untilSettled<T>(
  first: VariantChoices,
  openDialog: (() => Dialog) | undefined,
  work: (choices: VariantChoices) => Promise<T>,
  open: (result: T) => readonly CombineQuestion[],
): Promise<T> {
  let result = await work(first);
  if (openDialog === undefined || open(result).length === 0) return result;
  const dialog = openDialog();
  try {
    let choices: VariantChoices | null = first;
    for (let questions = open(result); questions.length > 0; questions = open(result)) {
      choices = await askAbout(dialog, questions, choices);
      if (choices === null) break;
      result = await work(choices);
    }
    return result;
  } finally {
    dialog.close();
  }
}
