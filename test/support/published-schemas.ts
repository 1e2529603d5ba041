import { readFileSync } from 'node:fs';
import { Ajv, type ValidateFunction } from 'ajv';
import { Ajv2019 } from 'ajv/dist/2019.js';
import addFormats from 'ajv-formats';

const load = (name: string): Record<string, unknown> =>
  JSON.parse(readFileSync(new URL(`../reference/documents/${name}`, import.meta.url), 'utf8')) as Record<
    string,
    unknown
  >;

function cycloneDx(): ValidateFunction {
  const ajv = new Ajv({ allErrors: true, strict: false });
  addFormats.default(ajv);
  // Formats that ajv-formats does not know; no e-mail address is written, and IRIs are what a URL parser takes.
  ajv.addFormat('idn-email', () => false);
  ajv.addFormat('iri-reference', (text: string) => URL.canParse(text, 'https://example.org'));
  ajv.addSchema(load('spdx.SNAPSHOT.schema.json'), 'http://cyclonedx.org/schema/spdx.SNAPSHOT.schema.json');
  ajv.addSchema(
    load('jsf-0.82.SNAPSHOT.schema.json'),
    'http://cyclonedx.org/schema/jsf-0.82.SNAPSHOT.schema.json',
  );
  return ajv.compile(load('bom-1.6.SNAPSHOT.schema.json'));
}

function spdx(): ValidateFunction {
  return new Ajv2019({ allErrors: true, strict: false }).compile(load('spdx-2.3.schema.json'));
}

/**
 * Its keywords mean in draft 7 what they mean in draft 4, but for the name of `id`. One of its patterns has a stray bracket,
 * which only lenient expressions take.
 */
function sarif(): ValidateFunction {
  const ajv = new Ajv({ allErrors: true, strict: false, unicodeRegExp: false });
  addFormats.default(ajv);
  const { id, $schema, ...schema } = load('sarif-2.1.0-rtm.5.json');
  if (typeof id !== 'string' || typeof $schema !== 'string') throw new Error('This is another schema.');
  return ajv.compile(schema);
}

const validators = { spdx: spdx(), cyclonedx: cycloneDx(), sarif: sarif() };

/** What a published schema objects to, one line each; empty when nothing. */
export function publishedObjections(schema: keyof typeof validators, value: unknown): string[] {
  const validate = validators[schema];
  if (validate(value)) return [];
  return (validate.errors ?? []).map(e => `${e.instancePath} ${e.message ?? ''} ${JSON.stringify(e.params)}`);
}
