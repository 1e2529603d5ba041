import { concatenate, type Mesh } from '@kinprint/mesh';
import { okabeIto } from '../lineage/palette.ts';
import { plural } from '../terminal/words.ts';
import { axisBounds, diagonalOf } from './axis-bounds.ts';
import { cameraFor, type Camera } from './camera.ts';
import { clay, colors, rgb, type Rgb } from './colors.ts';
import { pictureDefaults } from './defaults.ts';
import type { DepthImage } from './depth-image.ts';
import { dimensionText } from './dimensions.ts';
import { threeQuarter } from './directions.ts';
import { fitLettering, letteringWidth } from './lettering.ts';
import { drawView, viewOf } from './panel.ts';
import { heading, type PartPictureOptions } from './part-picture.ts';
import { drawScaleBar, scaleBar } from './scale-bar.ts';
import type { Item, Sheet } from './sheet.ts';
import { surfaceOf } from './surface.ts';

/** Something put together: a part where it is placed. */
export interface PlacedPart {
  readonly name: string;
  /** In the frame of the assembly. */
  readonly mesh: Mesh;
}

/** Parts where they are placed, in one picture. */
export interface AssemblyPicture {
  readonly sheet: Sheet;
  readonly camera: Camera;
  readonly scaleBar_mm: number;
  readonly size_mm: readonly [number, number, number] | null;
}

/**
 * The picture of parts put together: each in a tint of its own, and named beside it with a line that leads to it. A part
 * that nothing is seen of is named in the line below the title.
 *
 * @param unplaced names of parts that are in no place, which that line tells as well
 */
export function assemblyPicture(
  parts: readonly PlacedPart[],
  unplaced: readonly string[],
  title: string,
  options: PartPictureOptions = {},
): AssemblyPicture {
  const width = options.width ?? pictureDefaults.part.width;
  const height = options.height ?? pictureDefaults.part.height;
  const direction = options.direction ?? threeQuarter[0];
  const k = Math.min(width / 1200, height / 900);
  const text = { title: Math.max(9, 15 * k), small: Math.max(7.5, 10 * k) };
  const pad = Math.round(44 * k);
  const top = Math.round(pad + text.title + text.small + 20 * k);
  const whole = concatenate(parts.map(({ mesh }) => mesh));
  const empty = whole.triangles.length === 0;
  const room = Math.round(0.17 * width);
  const frame = {
    width_px: width - 2 * room,
    height_px: height - top - Math.round(pad + 14 * k),
    margin_px: Math.round(24 * k),
  };
  const camera = cameraFor([whole], direction, frame);
  const bar = scaleBar(camera.pixelsPerMm, 0.24 * width);
  const box = axisBounds([whole]);
  const size = empty
    ? null
    : ([0, 1, 2].map(n => box.max[n as 0] - box.min[n as 0]) as unknown as [number, number, number]);
  const seen = `seen from the ${direction.name}`;
  const told = [
    `${plural(parts.length, 'part')} put together`,
    ...(size === null ? [] : [`${size.map(dimensionText).join(' × ')} mm`]),
    seen,
  ];
  const items: Item[] = [];
  if (!empty) {
    const view = viewOf(surfaceOf(whole), camera, diagonalOf(box));
    const partOf = owners(parts);
    const tint = (sample: number): Rgb | null => {
      const face = view.image.face[sample];
      return face < 0 ? null : tints[partOf[face] % tints.length];
    };
    items.push(...drawView(view, room, top, `${title}, ${seen}`, { keys: null, at: tint }));
    const spots = spotsOf(view.image, partOf, parts.length);
    const labeled = parts.length <= mostLabels;
    const hidden = parts.filter((_, n) => spots[n] === null).map(({ name }) => name);
    if (hidden.length > 0) told.push(`hidden: ${hidden.join(', ')}`);
    if (labeled)
      items.push(...labels(parts, spots, { x: room, y: top, width, ...frame, pad, small: text.small }));
  }
  if (unplaced.length > 0) told.push(`not placed: ${unplaced.join(', ')}`);
  const line = told.join(' · ');
  items.unshift(...heading(title, line, pad, pad, width - 2 * pad, text));
  items.push(...drawScaleBar(bar, pad, height - pad, text.small));
  const description = `${title}: ${parts.map(({ name }) => name).join(', ')}. ${line}.`;
  return {
    sheet: { width, height, background: colors.page, title, description, items },
    camera,
    scaleBar_mm: bar.length_mm,
    size_mm: size,
  };
}

/** More names would cover what they name. */
const mostLabels = 24;

/** Clay, and clay with a third of one of Okabe and Ito's colors; the names tell the parts apart without them. */
const tints: readonly Rgb[] = [
  clay,
  ...(
    [
      okabeIto.skyBlue,
      okabeIto.orange,
      okabeIto.bluishGreen,
      okabeIto.reddishPurple,
      okabeIto.yellow,
    ] as const
  ).map(color => rgb(color).map((v, n) => Math.round(0.65 * clay[n] + 0.35 * v)) as unknown as Rgb),
];

/** Per face of all parts together: the index of its part. */
function owners(parts: readonly PlacedPart[]): Uint32Array {
  const partOf = new Uint32Array(parts.reduce((sum, { mesh }) => sum + mesh.triangles.length / 3, 0));
  let face = 0;
  parts.forEach(({ mesh }, n) => {
    const end = face + mesh.triangles.length / 3;
    partOf.fill(n, face, end);
    face = end;
  });
  return partOf;
}

/** For each part the seen pixel that lies nearest to the middle of all that is seen of it; null where nothing is. */
function spotsOf(
  { face, samples, width, camera }: DepthImage,
  partOf: Uint32Array,
  count: number,
): (readonly [number, number] | null)[] {
  const sums = new Float64Array(3 * count);
  const each = (visit: (part: number, x: number, y: number) => void): void => {
    for (let y = 0; y < camera.height_px; y++)
      for (let x = 0; x < camera.width_px; x++) {
        const f = face[y * samples * width + x * samples];
        if (f >= 0) visit(partOf[f], x, y);
      }
  };
  each((part, x, y) => {
    sums[3 * part]++;
    sums[3 * part + 1] += x;
    sums[3 * part + 2] += y;
  });
  const spots: (readonly [number, number] | null)[] = Array.from({ length: count }, () => null);
  const least = new Float64Array(count).fill(Infinity);
  each((part, x, y) => {
    const n = sums[3 * part];
    const apart = (x - sums[3 * part + 1] / n) ** 2 + (y - sums[3 * part + 2] / n) ** 2;
    if (apart >= least[part]) return;
    least[part] = apart;
    spots[part] = [x, y];
  });
  return spots;
}

interface Room {
  /** Upper left corner and size of the view. */
  readonly x: number;
  readonly y: number;
  readonly width_px: number;
  readonly height_px: number;
  /** Of the sheet. */
  readonly width: number;
  readonly pad: number;
  readonly small: number;
}

/** Names in a column left and right of the view, each beside its spot as nearly as the others let it. */
function labels(
  parts: readonly PlacedPart[],
  spots: readonly (readonly [number, number] | null)[],
  room: Room,
): Item[] {
  const seen = parts.flatMap(({ name }, n) => {
    const spot = spots[n];
    return spot === null ? [] : [{ name, x: room.x + spot[0], y: room.y + spot[1] }];
  });
  const middle = room.width / 2;
  return [true, false].flatMap(left => {
    const column = seen.filter(({ x }) => x < middle === left).sort((p, q) => p.y - q.y || p.x - q.x);
    const step = 2.4 * room.small;
    const floor = room.y + room.height_px;
    let next = room.y + step;
    return column.flatMap(({ name, x, y }, n): Item[] => {
      const at = Math.max(next, Math.min(y, floor - step * (column.length - 1 - n)));
      next = at + step;
      const fitted = fitLettering(name, room.small, room.x - room.pad - 10);
      const wide = letteringWidth(fitted, room.small);
      const start = left ? room.x - 10 - wide : room.width - room.x + 10;
      const from = left ? room.x - 4 : room.width - room.x + 4;
      const middleOfText = at - room.small / 2;
      return [
        { kind: 'stroke', lines: [[from, middleOfText, x, y]], color: colors.page, width: 3, opacity: 0.7 },
        { kind: 'stroke', lines: [[from, middleOfText, x, y]], color: colors.ink, width: 1 },
        { kind: 'fill', outline: dot(x, y, 0.28 * room.small), color: colors.ink },
        { kind: 'text', x: start, y: at, text: fitted, size: room.small, color: colors.ink, weight: 'bold' },
      ];
    });
  });
}

function dot(x: number, y: number, r: number): number[] {
  return Array.from({ length: 12 }, (_, n) => [
    x + r * Math.cos((n * Math.PI) / 6),
    y + r * Math.sin((n * Math.PI) / 6),
  ]).flat();
}
