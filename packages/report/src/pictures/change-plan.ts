import type { Mesh } from '@kinprint/mesh';
import { axisBounds, diagonalOf } from './axis-bounds.ts';
import { bestOf, showings } from './best-direction.ts';
import {
  axesOf,
  cameraFor,
  cameraOver,
  extentAlong,
  type Camera,
  type Extent,
  type Frame,
} from './camera.ts';
import type { ChangeScene } from './change-scene.ts';
import { pictureDefaults } from './defaults.ts';
import { directions, fromBelow, squareOn, threeQuarter } from './directions.ts';
import type { ChangedSolid } from './marks.ts';

/** From where a change is shown: all of the part, and what changed as large as it can be. */
export interface ChangePlan {
  readonly whole: Camera;
  readonly closer: Camera;
  /** How many times larger the second shows things than all of the part would be from there. */
  readonly enlarged: number;
  /** Numbers, from 0, of the pieces that the second is about. */
  readonly focus: readonly number[];
  /** mm² of changed surface that each shows. */
  readonly visible_mm2: { readonly whole: number; readonly closer: number };
}

/**
 * Chooses the cameras of a change.
 *
 * All of the part is seen in a three-quarter view, from above unless the change shows much better from below. The closer
 * look is taken from the direction that shows most of the changed surface; onto all pieces where they lie together, else
 * onto the largest one.
 */
export function planChange(
  {
    states,
    pieces,
    within_mm,
    fromAbove,
  }: Pick<ChangeScene, 'states' | 'pieces' | 'within_mm' | 'fromAbove'>,
  frame: Frame,
): ChangePlan {
  const { before, after } = states;
  const many = (before.triangles.length + after.triangles.length) / 3 > pictureDefaults.manyFaces;
  const below = many ? [] : showings(states, pieces, fromBelow, within_mm);
  const best = bestOf(fromAbove);
  const other = below.length === 0 ? best : bestOf(below);
  const first = other.visible_mm2 > 1.6 * best.visible_mm2 ? other : best;

  const focus = focusOf(before, after, pieces);
  const candidates = (many ? [...squareOn, ...threeQuarter] : directions).filter(
    direction => direction.name !== first.direction.name,
  );
  const chosen = focus.map(k => pieces[k]);
  const second = bestOf(showings(states, chosen, candidates, within_mm));
  const whole = cameraFor([before, after], second.direction, frame);
  const axes = axesOf(second.direction);
  const close = cameraOver(
    roomy(extentAlong(chosen.length === 0 ? [after] : chosen.map(({ mesh }) => mesh), axes)),
    second.direction,
    frame,
  );
  const most = pictureDefaults.closer.most * whole.pixelsPerMm;
  const near = close.pixelsPerMm > most ? { ...close, pixelsPerMm: most } : close;
  const enlarged = near.pixelsPerMm / whole.pixelsPerMm;
  const worth = enlarged >= pictureDefaults.closer.from;
  return {
    whole: cameraFor([before, after], first.direction, frame),
    closer: worth ? near : whole,
    enlarged: worth ? enlarged : 1,
    focus,
    visible_mm2: { whole: first.visible_mm2, closer: second.visible_mm2 },
  };
}

/** All pieces where they take up less than half of the part across; else the first, which is the largest. */
function focusOf(before: Mesh, after: Mesh, pieces: readonly ChangedSolid[]): number[] {
  const all = pieces.map((_, k) => k);
  if (pieces.length < 2) return all;
  const part = diagonalOf(axisBounds([before, after]));
  const together = diagonalOf(axisBounds(pieces.map(({ mesh }) => mesh)));
  return together < 0.5 * part ? all : [0];
}

/** With surroundings: half as much again on every side, so that it is seen what the change is part of. */
function roomy({ min, max }: Extent): Extent {
  const size = Math.max(max[0] - min[0], max[1] - min[1]);
  const by = 0.45 * size;
  return {
    min: [min[0] - by, min[1] - by, min[2]],
    max: [max[0] + by, max[1] + by, max[2]],
  };
}
