import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lineageProv } from '@kinprint/report';
import { lendingGroup, sampleLineage } from '../../packages/report/src/testing/lineage-samples.ts';

const load = (name: string): object =>
  JSON.parse(readFileSync(new URL(`../reference/provenance/${name}`, import.meta.url), 'utf8')) as object;
const ajv = new Ajv2020({ allErrors: true, strict: false });
addFormats.default(ajv);
const valid = ajv.compile(load('prov-json.schema.json'));

interface Prov {
  readonly prefix: Record<string, string>;
  readonly entity: Record<string, Record<string, unknown>>;
  readonly agent: Record<string, Record<string, unknown>>;
  readonly wasDerivedFrom: Record<string, Record<string, unknown>>;
  readonly specializationOf: Record<string, Record<string, string>>;
  readonly alternateOf: Record<string, Record<string, string>>;
  readonly wasAttributedTo: Record<string, Record<string, string>>;
}

describe('PROV-JSON', () => {
  it('has the shape of the standard, which the reference example has too, apart from its activities', () => {
    const { used, wasGeneratedBy, wasAssociatedWith, actedOnBehalfOf, ...example } = load(
      'prov-json-example.json',
    ) as Record<string, unknown>;
    expect([used, wasGeneratedBy, wasAssociatedWith, actedOnBehalfOf].every(Boolean)).toBe(true);
    expect(valid(example)).toBe(true);
    expect(valid({ ...example, wasRevisionOf: {} })).toBe(false);
    expect(valid(lineageProv(lendingGroup)), JSON.stringify(valid.errors)).toBe(true);
  });

  it('says of revisions, mirrors and variants what the vocabulary has words for', () => {
    const prov = lineageProv(lendingGroup) as Prov;
    const derived = Object.values(prov.wasDerivedFrom);
    const revisions = derived.filter(d => d['prov:type'] !== undefined);
    expect(derived).toHaveLength(lendingGroup.edges.length);
    expect(revisions).toHaveLength(lendingGroup.edges.filter(e => e.relation === 'revision').length);
    expect(revisions[0]['prov:type']).toEqual({ $: 'prov:Revision', type: 'xsd:QName' });
    expect(Object.values(prov.specializationOf)).toContainEqual({
      'prov:specificEntity': 'rev:utensil-cuff/left-58%40A',
      'prov:generalEntity': 'var:utensil-cuff/left-58',
    });
    expect(Object.values(prov.alternateOf)).toContainEqual({
      'prov:alternate1': 'rev:utensil-cuff/left-58%40A',
      'prov:alternate2': 'rev:utensil-cuff/right-58%40B',
    });
  });

  it('names only what it declares, with safe names, whatever people are called', () => {
    fc.assert(
      fc.property(
        fc.array(fc.string({ unit: 'binary', minLength: 1, maxLength: 20 }), { maxLength: 5 }),
        authors => {
          const graph = sampleLineage([
            { address: 'a/one', more: { authors } },
            {
              address: 'a/two',
              from: [
                ['other:a/gone@B', 'copy'],
                ['a/one@A', 'mirror'],
              ],
            },
          ]);
          const prov = lineageProv(graph) as Prov;
          expect(valid(prov), JSON.stringify(valid.errors)).toBe(true);
          const names = [...Object.keys(prov.entity), ...Object.keys(prov.agent)];
          for (const name of names) expect(prov.prefix).toHaveProperty(name.slice(0, name.indexOf(':')));
          const ends = [prov.wasDerivedFrom, prov.wasAttributedTo, prov.specializationOf, prov.alternateOf]
            .flatMap(section => Object.values(section ?? {}))
            .flatMap(attributes =>
              Object.entries(attributes).flatMap(([key, value]) =>
                /^prov:(generatedE|usedE|e|specificE|generalE)ntity$|^prov:(agent|alternate[12])$/.test(key)
                  ? [value]
                  : [],
              ),
            );
          expect(ends.length).toBeGreaterThan(5);
          for (const end of ends) expect(names).toContain(end);
        },
      ),
    );
  });
});
