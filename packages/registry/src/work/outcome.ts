import { InputError } from '@kinprint/mesh';
import type { InputErrorData, TaskOutcome } from './task.ts';

/** The error that the data was made from. */
export function inputErrorOf(data: InputErrorData): InputError {
  return new InputError(data.code, data.message, data.remedy, data.place);
}

/**
 * The result, or the error of the input that came as data.
 *
 * @throws Error for a fault of ours
 */
export function resultOrError<T>(outcome: TaskOutcome<T>): T | InputError {
  switch (outcome.state) {
    case 'done':
      return outcome.result;
    case 'input-error':
      return inputErrorOf(outcome.error);
    case 'fault':
      throw new Error(outcome.text);
  }
}

/** The result; errors that came as data are thrown again. */
export function resultOrThrow<T>(outcome: TaskOutcome<T>): T {
  const result = resultOrError(outcome);
  if (result instanceof InputError) throw result;
  return result;
}

/**
 * The result; null where the input is at fault.
 *
 * @throws Error for a fault of ours
 */
export function resultOrNull<T>(outcome: TaskOutcome<T>): T | null {
  const result = resultOrError(outcome);
  return result instanceof InputError ? null : result;
}
