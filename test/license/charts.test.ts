import { describe, expect, it } from 'vitest';
import {
  adapterCell,
  chartElements,
  combinationCell,
  findLicense,
  judgeAdaptation,
  judgeBlend,
  parseExpression,
  type Answer,
  type Elements,
  type Expression,
} from '@kinprint/license';
import { licenseReference } from './reference.ts';

type Chart = Record<Elements, Record<Elements, string>>;
const adapter = licenseReference<{ chart: Chart }>('cc-adapter-chart.json').chart;
const combination = licenseReference<{
  chart: Chart;
  derived_adapter_licences_for_allowed_pairs: {
    pair: [Elements, Elements];
    adapter_licences: Partial<Record<Elements, string>>;
  }[];
  collections: { chart: Record<string, { commercial: boolean; noncommercial: boolean }> };
}>('cc-combination-chart.json');

const words: Record<string, Answer> = {
  allowed: 'permitted',
  not_recommended: 'not-recommended',
  not_permitted: 'not-permitted',
  can_combine: 'permitted',
  cannot_combine: 'not-permitted',
};
const idOf = (elements: Elements): string =>
  elements === 'CC0' ? 'CC0-1.0' : elements === 'PDM' ? 'CC-PDM-1.0' : `CC-${elements}-4.0`;
const read = (text: string): Expression => {
  const parsed = parseExpression(text);
  if (!parsed.ok) throw new Error(text);
  return parsed.expression;
};
const term = (elements: Elements) =>
  ({ kind: 'license', id: idOf(elements), orLater: false, exception: null }) as const;

describe.each(chartElements.flatMap(row => chartElements.map(column => [row, column] as const)))(
  '%s and %s',
  (row, column) => {
    it('is the cell of the published adapter chart', () => {
      expect(adapterCell(row, column)).toBe(words[adapter[row][column]]);
      // The whole judgement agrees, but for the public domain mark, which is no license for what is new (FAQ; scenario S48).
      const judged = judgeAdaptation(read(idOf(row)), read(idOf(column))).answer;
      const charted = words[adapter[row][column]];
      expect(judged).toBe(column === 'PDM' && charted === 'permitted' ? 'not-recommended' : charted);
    });

    it('is the cell of the published combination chart', () => {
      expect(combinationCell(row, column)).toBe(words[combination.chart[row][column]]);
      expect(judgeBlend(term(row), term(column)).answer).toBe(words[combination.chart[row][column]]);
    });
  },
);

describe('the two charts', () => {
  it('do not compose: BY-NC and BY-SA share a column, and cannot be blended', () => {
    expect(adapterCell('BY-NC', 'BY-SA')).toBe('not-recommended');
    expect(adapterCell('BY-SA', 'BY-SA')).toBe('permitted');
    expect(combinationCell('BY-NC', 'BY-SA')).toBe('not-permitted');
    expect(judgeAdaptation(read('CC-BY-NC-4.0 AND CC-BY-SA-4.0'), read('CC-BY-SA-4.0')).answer).toBe(
      'not-permitted',
    );
  });

  it.each(combination.derived_adapter_licences_for_allowed_pairs)(
    '$pair together: which license the blend may carry',
    ({ pair, adapter_licences }) => {
      for (const to of chartElements.filter(e => e !== 'PDM')) {
        const judged = judgeAdaptation(read(pair.map(idOf).join(' AND ')), read(idOf(to))).answer;
        expect(judged, to).toBe(words[adapter_licences[to] ?? 'not_permitted']);
      }
    },
  );

  it.each(Object.entries(combination.collections.chart))(
    '%s in a collection',
    (name, { commercial, noncommercial }) => {
      const license = findLicense(name === 'PD' ? 'CC0-1.0' : idOf(name as Elements));
      expect(license.collect.answer === 'permitted').toBe(noncommercial);
      expect(license.collect.answer === 'permitted' && license.commercial.may).toBe(commercial);
    },
  );
});
