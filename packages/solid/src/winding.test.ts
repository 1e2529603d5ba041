import { expect, it } from 'vitest';
import { ballMesh, boxMesh, insideOut } from './testing/shapes.ts';
import { windingNumber } from './winding.ts';

it('is 1 inside, 0 outside, −1 inside an inverted solid', () => {
  const ball = ballMesh(2, 9, 12);
  expect(windingNumber(ball, [0.3, -0.2, 1])).toBeCloseTo(1, 12);
  expect(windingNumber(ball, [3, 0, 0])).toBeCloseTo(0, 12);
  expect(windingNumber(insideOut(ball), [0, 0, 0])).toBeCloseTo(-1, 12);
  expect(windingNumber(boxMesh([0, 0, 0], [1, 1, 1]), [0.4, 0.3, 1e-9])).toBeCloseTo(1, 6);
});
