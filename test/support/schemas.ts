import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';

const load = (name: string): object =>
  JSON.parse(
    readFileSync(new URL(`../../schemas/output/${name}.schema.json`, import.meta.url), 'utf8'),
  ) as object;

const ajv = new Ajv2020({ allErrors: true, strict: true, strictRequired: false, allowUnionTypes: true });
ajv.addSchema(load('measure'));
ajv.addSchema(load('compare'));

/** What an output schema objects to, one line each; empty when nothing. */
export function objections(schema: 'measure' | 'compare', value: unknown): string[] {
  const validate = ajv.getSchema(`kinprint:output/${schema}/1`);
  if (validate === undefined) throw new Error(`no schema ${schema}`);
  if (validate(value) === true) return [];
  return (validate.errors ?? []).map(e => `${e.instancePath} ${e.message ?? ''} ${JSON.stringify(e.params)}`);
}
