import type { Bounds, Vec3 } from '@kinprint/mesh';
import { project, type Camera } from './camera.ts';
import { colors } from './colors.ts';
import { letteringWidth } from './lettering.ts';
import type { Item } from './sheet.ts';

type Point = readonly [number, number];

/** px: how far dimension lines stand from the part, and the rest of their drawing. */
const measures = { off: 34, gap: 5, beyond: 6, arrow: 11, arrowHalf: 1.9, lift: 5 } as const;

/**
 * The overall dimensions of a box along its axes, in the manner of technical drawings (ISO 129-1: thin dimension and
 * extension lines, filled arrows, the figure above the line and read from below or from the right; no unit, as the sheet
 * says that they are millimeters). An axis that is seen end-on has none.
 */
export function drawDimensions(box: Bounds, camera: Camera, size: number): Item[] {
  const { near, low, leftOfUpright } = edgesOf(camera);
  const items: Item[] = [];
  for (const axis of [0, 1, 2] as const) {
    if (box.max[axis] <= box.min[axis]) continue;
    const at: [number, number, number] =
      axis === 0
        ? [0, near[1], low]
        : axis === 1
          ? [near[0], 0, low]
          : [leftOfUpright[0], leftOfUpright[1], 0];
    const offs: readonly Vec3[] =
      axis === 0
        ? [
            [0, near[1], 0],
            [0, 0, low],
          ]
        : axis === 1
          ? [
              [near[0], 0, 0],
              [0, 0, low],
            ]
          : [
              [leftOfUpright[0], 0, 0],
              [0, leftOfUpright[1], 0],
            ];
    items.push(...drawOne(box, camera, axis, at, offs, size));
  }
  return items;
}

type Axes = Pick<Camera, 'right' | 'toward'>;

/** Which edges of a box carry its dimensions, by signs: the near ones below, and the left one of those that stand upright. */
function edgesOf(camera: Axes): {
  readonly near: readonly number[];
  readonly low: number;
  readonly leftOfUpright: readonly [number, number];
} {
  const near = camera.toward.map((v, k) => (v > 1e-9 ? 1 : v < -1e-9 ? -1 : k === 1 ? -1 : 1));
  const low = camera.toward[2] < -1e-9 ? 1 : -1;
  const leftOfUpright: readonly [number, number] = isLeft(
    camera,
    [-near[0], near[1], 0],
    [near[0], -near[1], 0],
  )
    ? [-near[0], near[1]]
    : [near[0], -near[1]];
  return { near, low, leftOfUpright };
}

/** The corners of a box that dimensions start from: those below and the upper end of the upright edge. */
export function dimensionedCorners({ min, max }: Bounds, camera: Axes): Vec3[] {
  const {
    low,
    leftOfUpright: [x, y],
  } = edgesOf(camera);
  const at = (k: 0 | 1 | 2, sign: number): number => (sign > 0 ? max[k] : min[k]);
  return [
    ...[-1, 1].flatMap(sx => [-1, 1].map((sy): Vec3 => [at(0, sx), at(1, sy), at(2, low)])),
    [at(0, x), at(1, y), at(2, -low)],
  ];
}

function isLeft(camera: Axes, a: Vec3, b: Vec3): boolean {
  const x = (v: Vec3): number => v[0] * camera.right[0] + v[1] * camera.right[1] + v[2] * camera.right[2];
  return x(a) <= x(b);
}

/** The dimension along one axis, at the edge of the box that `at` names by signs, moved outward. */
function drawOne(
  { min, max }: Bounds,
  camera: Camera,
  axis: 0 | 1 | 2,
  at: readonly [number, number, number],
  offs: readonly Vec3[],
  size: number,
): Item[] {
  const corner = (end: number): Vec3 =>
    [0, 1, 2].map(k => ((k === axis ? end : at[k as 0]) > 0 ? max[k as 0] : min[k as 0])) as unknown as Vec3;
  const flat = (p: Vec3): Point => {
    const { x, y } = project(camera, p);
    return [x, y];
  };
  let [p, q] = [flat(corner(-1)), flat(corner(1))];
  // From left to right; upright ones from below.
  if (q[0] < p[0] - 1e-6 || (Math.abs(q[0] - p[0]) <= 1e-6 && q[1] > p[1])) [p, q] = [q, p];
  const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
  const length = Math.sqrt(dx * dx + dy * dy);
  if (length < 12) return [];
  const [ux, uy] = [dx / length, dy / length];
  const way = offs
    .map(v => {
      const { right, up } = camera;
      const dot = (r: Vec3): number => r[0] * v[0] + r[1] * v[1] + r[2] * v[2];
      const [x, y] = [dot(right), -dot(up)];
      const size = Math.sqrt(x * x + y * y);
      return size < 0.1 ? null : ([x / size, y / size] as const);
    })
    .filter(v => v !== null)
    // Away from the line, not along it.
    .find(([x, y]) => Math.abs(x * uy - y * ux) > 0.35);
  if (way === undefined) return [];
  const across = Math.abs(way[0] * uy - way[1] * ux);
  const off = measures.off / across;
  const move = ([x, y]: Point, by: number): Point => [x + way[0] * by, y + way[1] * by];
  const [a, b] = [move(p, off), move(q, off)];
  const label = dimensionText(max[axis] - min[axis]);
  const width = letteringWidth(label, size);
  const inside = length > 2.6 * measures.arrow;
  const arrow = ([x, y]: Point, sign: number): Item => {
    const s = inside ? sign : -sign;
    const [bx, by] = [x + s * measures.arrow * ux, y + s * measures.arrow * uy];
    const [nx, ny] = [-uy * measures.arrowHalf, ux * measures.arrowHalf];
    return { kind: 'fill', color: colors.ink, outline: [x, y, bx + nx, by + ny, bx - nx, by - ny] };
  };
  const longer = inside ? 0 : 2 * measures.arrow;
  const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  // Above the line as one reads it.
  const [nx, ny] = [uy, -ux];
  return [
    {
      kind: 'stroke',
      color: colors.ink,
      width: 0.9,
      lines: [
        [...move(p, measures.gap), ...move(a, measures.beyond)],
        [...move(q, measures.gap), ...move(b, measures.beyond)],
        [a[0] - longer * ux, a[1] - longer * uy, b[0] + longer * ux, b[1] + longer * uy],
      ],
    },
    arrow(a, 1),
    arrow(b, -1),
    {
      kind: 'text',
      x: middle[0] - (ux * width) / 2 + nx * measures.lift,
      y: middle[1] - (uy * width) / 2 + ny * measures.lift,
      text: label,
      size,
      color: colors.ink,
      along: [ux, uy],
    },
  ];
}

/** `82.4`: hundredths, without zeros at the end. */
export function dimensionText(length_mm: number): string {
  return String(Math.round(length_mm * 100) / 100).replace('-', '−');
}
