import type { Aspect, Reason } from '@kinprint/fit';
import type { ReviewFinding } from '@kinprint/registry';
import { formWords } from '../review/review-words.ts';

/** Function is never seen in files: it must be shown. */
export function aspectWord(name: 'form' | 'fit' | 'function', aspect: Aspect): string {
  return name === 'function' && aspect === 'unknown' ? 'to be shown' : formWords[aspect];
}

/** Before a reason, and said in full for who cannot see it. */
export const weightMarks: Readonly<Record<Reason['weight'], readonly [string, string]>> = {
  breaks: ['✕', 'Speaks against swapping:'],
  ask: ['?', 'To be asked:'],
  says: ['·', ''],
};

export const severityWords: Readonly<Record<ReviewFinding['severity'], string>> = {
  error: 'error',
  warning: 'warning',
  ask: 'question',
  note: 'note',
};
