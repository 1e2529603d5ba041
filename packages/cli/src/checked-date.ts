import { InputError } from '@kinprint/mesh';

/**
 * A calendar day as a user gives it, ISO 8601.
 *
 * @throws InputError `date-bad`
 */
export function checkedDate(text: string): string {
  const date = /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(text) ? new Date(`${text}T00:00:00Z`) : null;
  if (date !== null && !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text)) return text;
  throw new InputError('date-bad', `'${text}' is no date.`, 'Write it as 2026-03-14.');
}
