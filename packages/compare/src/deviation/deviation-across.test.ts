import type { Mesh } from '@kinprint/mesh';
import { describe, expect, it } from 'vitest';
import { moved, rotation, translated } from '../../../mesh/src/testing/motions.ts';
import { box, icosphere, tube } from '../../../mesh/src/testing/shapes.ts';
import { both, type Helpers, type Offer } from '../helpers.ts';
import { deviation, deviationAcross } from './deviation.ts';
import { sideRange, sideVertices } from './deviation-side.ts';

/** Does what is on offer later and in a copy, as another thread would. */
function elsewhere<Input, Result>(work: (input: Input) => Result): Offer<Input, Result> {
  return input => {
    const sent = structuredClone(input);
    return async () => {
      await new Promise(resolve => setTimeout(resolve, 1));
      return structuredClone(work(sent));
    };
  };
}

const others: Pick<Helpers, 'sideVertices' | 'sideRange'> = {
  sideVertices: elsewhere(sideVertices),
  sideRange: elsewhere(sideRange),
};

const ball = icosphere(10, 4);
const turned = (mesh: Mesh): Mesh => moved(mesh, rotation(0.9, 0.1, -0.3, 0.2), [0, 0, 0]);
const cases: Readonly<Record<string, readonly [Mesh, Mesh]>> = {
  'another triangulation': [ball, turned(ball)],
  'one side far, the other near': [box(10, 10, 10), box(10, 10, 30)],
  moved: [tube(24, 10, 6, 20), translated(tube(24, 10, 6, 20), [0.1, 0.2, 0.3])],
  'the same': [ball, ball],
  nothing: [{ positions: new Float32Array(0), triangles: new Uint32Array(0) }, ball],
};

describe('deviation across threads', () => {
  it.each(Object.keys(cases))('gives the same to the last bit: %s', async name => {
    const [before, after] = cases[name];
    const options = { tolerance_mm: 0.01 };
    const expected = deviation(before, after, options);
    const result = await deviationAcross(before, after, options, others);
    expect(Object.keys(result).sort()).toEqual(Object.keys(expected).sort());
    // toEqual tells −0 from 0 and takes NaN for NaN: the same doubles.
    expect(result).toEqual(expected);
  });

  it('keeps the order of a pair whoever does which', async () => {
    const asked: string[] = [];
    const offer: Offer<string, string> = word => () => {
      asked.push(word);
      return new Promise(resolve => setTimeout(() => resolve(`${word}!`), word === 'b' ? 1 : 5));
    };
    expect(await both(offer, ['a', 'b'])).toEqual(['a!', 'b!']);
    expect(asked).toEqual(['b', 'a']);
  });
});
