import {
  bodies,
  type Bounds,
  bounds,
  concatenate,
  type Mesh,
  type Note,
  subMesh,
  transformMesh,
  type Vec3,
} from '@kinprint/mesh';
import type { AlignedVerdict, Alignment, BodyMatch } from '../comparison.ts';
import { compareDefaults } from '../defaults.ts';
import { alignedVerdict, bodyLine, matchBodies, type MatchedBody } from './match.ts';

/** Files of several bodies, once each body of BEFORE was carried to its counterpart. */
export interface CarriedBodies {
  readonly verdict: AlignedVerdict;
  /** Of the largest body that has a counterpart: the frame in which the rest is told. */
  readonly alignment: Alignment;
  readonly lines: readonly BodyMatch[];
  /** BEFORE with each body carried by its own alignment; bodies without a counterpart follow the largest. */
  readonly carried: Mesh;
  readonly notes: readonly Note[];
  /** The alignment of the body that holds a point of BEFORE, by the smallest bounds around it. */
  readonly motionAt: (point: Vec3) => Alignment;
}

/**
 * Compares files body by body when at least one of them holds several; null when matching bodies explains no more
 * than one alignment of the whole does.
 *
 * @param notes gains a note when there are too many bodies
 */
export function compareBodies(
  before: Mesh,
  after: Mesh,
  whole: Alignment,
  tolerance_mm: number,
  notes: Note[],
): CarriedBodies | null {
  const split = { before: bodies(before), after: bodies(after) };
  const most = Math.max(split.before.length, split.after.length);
  if (most < 2) return null;
  if (most > compareDefaults.bodiesMatched) {
    notes.push({
      code: 'bodies-not-matched',
      text: `There are ${most} bodies, more than the ${compareDefaults.bodiesMatched} that are matched one by one: only the whole is compared.`,
      about: 'bodies',
    });
    return null;
  }
  const meshes = {
    before: split.before.map(faces => subMesh(before, faces)),
    after: split.after.map(faces => subMesh(after, faces)),
  };
  const matched = matchBodies(meshes.before, meshes.after, whole, tolerance_mm);
  const pairs = matched.filter(m => m.result !== null);
  if (pairs.length === 0) return null;

  const frame = anchor(pairs, meshes.after);
  const carried = concatenate(
    matched.flatMap(m => {
      const mesh = m.before === null ? undefined : meshes.before[m.before];
      return mesh === undefined ? [] : [transformMesh(mesh, (m.result?.alignment ?? frame).matrix)];
    }),
  );
  const lines = matched.map(m => bodyLine(m, meshes.before, meshes.after));
  return {
    verdict: wholeVerdict(matched),
    alignment: frame,
    lines,
    carried,
    notes: motionNote(pairs, frame, tolerance_mm, lines),
    motionAt: motions(matched, meshes.before, frame),
  };
}

function motions(
  matched: readonly MatchedBody[],
  before: readonly Mesh[],
  frame: Alignment,
): (point: Vec3) => Alignment {
  const boxes = matched.flatMap(({ before: k, result }) => {
    const box = k === null ? null : bounds(before[k]);
    return box === null ? [] : [{ box, alignment: result?.alignment ?? frame }];
  });
  const size = ({ min, max }: Bounds): number =>
    Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  boxes.sort((p, q) => size(p.box) - size(q.box));
  const holds = ({ min, max }: Bounds, point: Vec3): boolean =>
    point.every((c, k) => c >= min[k as 0] && c <= max[k as 0]);
  return point => boxes.find(({ box }) => holds(box, point))?.alignment ?? frame;
}

/** The alignment shared by most of the surface: the one of the largest body of AFTER that was matched exactly. */
function anchor(pairs: readonly MatchedBody[], after: readonly Mesh[]): Alignment {
  const faces = (m: MatchedBody): number => (m.after === null ? 0 : (after[m.after]?.triangles.length ?? 0));
  const rank = (m: MatchedBody): number => faces(m) * (m.result?.exact === true ? 2 : 1);
  const best = pairs.reduce((p, q) => (rank(q) > rank(p) ? q : p));
  if (best.result === null) throw new Error('a matched body has an alignment');
  return best.result.alignment;
}

/** All bodies the same shape: the file is what its bodies became; anything else is a rework. */
function wholeVerdict(matched: readonly MatchedBody[]): AlignedVerdict {
  const verdicts = new Set(matched.map(m => (m.result === null ? 'reworked' : alignedVerdict(m.result))));
  if (verdicts.has('reworked') || verdicts.has('replaced')) return 'reworked';
  if (verdicts.has('rescaled')) return verdicts.size === 1 ? 'rescaled' : 'reworked';
  if (verdicts.has('mirrored')) return verdicts.size === 1 ? 'mirrored' : 'reworked';
  if (verdicts.has('moved')) return 'moved';
  return verdicts.has('same-shape') ? 'same-shape' : 'identical';
}

function motionNote(
  pairs: readonly MatchedBody[],
  frame: Alignment,
  tolerance: number,
  lines: readonly BodyMatch[],
): Note[] {
  const notes: Note[] = [];
  const apart = pairs.filter(m => m.result !== null && !sameMotion(m.result.alignment, frame, tolerance));
  if (apart.length > 0) {
    notes.push({
      code: 'bodies-moved',
      text: `${apart.length} of ${pairs.length} matched bodies moved relative to the one whose alignment is given; deviation and material are told with each body carried to its counterpart.`,
      about: 'alignment',
    });
  }
  const added = lines.filter(l => l.before === null).length;
  const removed = lines.filter(l => l.after === null).length;
  if (added > 0)
    notes.push({
      code: 'bodies-added',
      text: `${added} ${added === 1 ? 'body' : 'bodies'} appeared.`,
      about: 'bodies',
    });
  if (removed > 0)
    notes.push({
      code: 'bodies-removed',
      text: `${removed} ${removed === 1 ? 'body is' : 'bodies are'} gone.`,
      about: 'bodies',
    });
  return notes;
}

function sameMotion(a: Alignment, b: Alignment, tolerance: number): boolean {
  for (const r of [0, 1, 2] as const) {
    for (const c of [0, 1, 2] as const) if (Math.abs(a.matrix[r][c] - b.matrix[r][c]) > 1e-6) return false;
    if (Math.abs(a.matrix[r][3] - b.matrix[r][3]) > Math.max(tolerance, 1e-6)) return false;
  }
  return true;
}
