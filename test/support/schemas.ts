import { readdirSync, readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';

const folder = new URL('../../schemas/output/', import.meta.url);
const ajv = new Ajv2020({ allErrors: true, strict: true, strictRequired: false, allowUnionTypes: true });
for (const file of readdirSync(folder).filter(name => name.endsWith('.schema.json')))
  ajv.addSchema(JSON.parse(readFileSync(new URL(file, folder), 'utf8')) as object);

/**
 * What an output schema objects to, one line each; empty when nothing.
 *
 * @param schema the name of its file in `schemas/output`, without endings
 */
export function objections(schema: string, value: unknown): string[] {
  const validate = ajv.getSchema(`kinprint:output/${schema}/1`);
  if (validate === undefined) throw new Error(`no schema ${schema}`);
  if (validate(value) === true) return [];
  return (validate.errors ?? []).map(e => `${e.instancePath} ${e.message ?? ''} ${JSON.stringify(e.params)}`);
}
