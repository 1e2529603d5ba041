import type { Answer, Elements } from './types.ts';

const order = [
  'PDM',
  'CC0',
  'BY',
  'BY-SA',
  'BY-NC',
  'BY-NC-SA',
  'BY-ND',
  'BY-NC-ND',
] as const satisfies readonly Elements[];
const answers: Readonly<Record<string, Answer>> = {
  '+': 'permitted',
  '~': 'not-recommended',
  '-': 'not-permitted',
};

/**
 * Which license the adaptation of ONE work may carry. A row for the original, a column for the adaptation; `~` is the
 * chart's warning cell: allowed by the letter, and recipients must obey both licenses.
 * Source: adapter's chart of the Creative Commons FAQ, where one row and column holds all of the public domain.
 */
const adapter: Readonly<Record<Elements, string>> = {
  //            PDM CC0 BY BY-SA BY-NC BY-NC-SA BY-ND BY-NC-ND
  PDM: '        +   +   +  +     +     +        +     +',
  CC0: '        +   +   +  +     +     +        +     +',
  BY: '         ~   ~   +  +     +     +        +     +',
  'BY-SA': '    -   -   -  +     -     -        -     -',
  'BY-NC': '    ~   ~   ~  ~     +     +        ~     +',
  'BY-NC-SA': ' -   -   -  -     -     +        -     -',
  'BY-ND': '    -   -   -  -     -     -        -     -',
  'BY-NC-ND': ' -   -   -  -     -     -        -     -',
};

/**
 * Which works may be blended into one; symmetric. It does not follow from the adapter's chart: BY-NC and BY-SA share a
 * column there, and cannot be blended.
 * Source: license compatibility chart of the Creative Commons FAQ.
 */
const combination: Readonly<Record<Elements, string>> = {
  //            PDM CC0 BY BY-SA BY-NC BY-NC-SA BY-ND BY-NC-ND
  PDM: '        +   +   +  +     +     +        -     -',
  CC0: '        +   +   +  +     +     +        -     -',
  BY: '         +   +   +  +     +     +        -     -',
  'BY-SA': '    +   +   +  +     -     -        -     -',
  'BY-NC': '    +   +   +  -     +     +        -     -',
  'BY-NC-SA': ' +   +   +  -     +     +        -     -',
  'BY-ND': '    -   -   -  -     -     -        -     -',
  'BY-NC-ND': ' -   -   -  -     -     -        -     -',
};

/** The cell of the adapter's chart: may an adaptation of `original` carry `adaptation`? */
export function adapterCell(original: Elements, adaptation: Elements): Answer {
  return cell(adapter, original, adaptation);
}

/** The cell of the combination chart: may these be blended into one work? */
export function combinationCell(a: Elements, b: Elements): Answer {
  return cell(combination, a, b);
}

function cell(chart: Readonly<Record<Elements, string>>, row: Elements, column: Elements): Answer {
  return answers[chart[row].trim().split(/ +/)[order.indexOf(column)]];
}

/** The names of rows and columns, in the order of the charts. */
export const chartElements: readonly Elements[] = order;
