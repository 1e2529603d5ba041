import type { Ajv2020 } from 'ajv/dist/2020.js';

/** Full dates of RFC 3339, by the calendar of the platform: independent of what the generated validators use. */
export function addDateFormat(ajv: Ajv2020): void {
  ajv.addFormat('date', text => {
    if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
    const date = new Date(`${text}T00:00:00Z`);
    return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
  });
}
