import type { StateHistory } from '@kinprint/registry';
import { clean } from '@kinprint/report';
import type { Io } from '../io.ts';

/** Says on the side what of the history could not be read, as far as the answer needed it. */
export async function tellGaps(history: StateHistory, io: Io): Promise<void> {
  for (const { text, remedy } of await history.gaps()) io.err(`${clean(`${text} ${remedy}`)}\n`);
}
