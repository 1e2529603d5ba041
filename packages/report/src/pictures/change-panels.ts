import type { TriangleTree } from '@kinprint/mesh';
import { drawCallOuts, type CallOut } from './call-outs.ts';
import type { Camera } from './camera.ts';
import { colors } from './colors.ts';
import { pictureDefaults } from './defaults.ts';
import { contour, deviationField } from './deviation-field.ts';
import { drawDeviationLegend } from './deviation-legend.ts';
import { deviationColor, roundLimit } from './deviation-map.ts';
import { fitLettering, letteringWidth } from './lettering.ts';
import { markPaint, marksOf, sightings, unchanged, type ChangedSolid } from './marks.ts';
import { drawView, moved, viewOf, type View } from './panel.ts';
import { lowered } from './part-picture.ts';
import { drawScaleBar, scaleBar } from './scale-bar.ts';
import { closed, rectangle, type Item } from './sheet.ts';
import type { Surface } from './surface.ts';

/** Where the panels of a sheet are: three columns. */
export interface Grid {
  readonly pad: number;
  readonly top: number;
  readonly gap: number;
  readonly cell: { readonly width: number; readonly height: number };
  /** Height of the capitals. */
  readonly text: number;
}

/** px within a panel: its caption, what is kept free around the part and before its sides. */
export const inner = { caption: 40, margin: 44, side: 16 } as const;

export function gridOf(width: number, height: number): Grid {
  const [pad, gap] = [36, 16];
  const top = pad + 46;
  return {
    pad,
    top,
    gap,
    cell: {
      width: Math.floor((width - 2 * pad - 2 * gap) / 3),
      height: Math.floor((height - top - pad - gap) / 2),
    },
    text: 9.5,
  };
}

export function cellAt(
  { pad, top, gap, cell }: Grid,
  column: number,
  row: number,
): readonly [number, number] {
  return [pad + column * (cell.width + gap), top + row * (cell.height + gap)];
}

/** One state of a change, and what it takes to draw it. */
export interface Side {
  readonly name: 'before' | 'after';
  readonly surface: Surface;
  /** The surface of the other state. */
  readonly other: TriangleTree;
  readonly pieces: readonly ChangedSolid[];
  /** Surfaces nearer than this coincide. */
  readonly within_mm: number;
  /** Size of the part. */
  readonly size_mm: number;
}

/** What a panel shows. */
export interface Shown {
  readonly items: readonly Item[];
  readonly view: View;
  readonly marks: Uint16Array;
}

export interface Caption {
  readonly title: string;
  readonly line: string;
}

/** A state of the part with what changed marked and called out. */
export function drawSide(
  side: Side,
  camera: Camera,
  grid: Grid,
  [column, row]: readonly [number, number],
  caption: Caption,
  ghost: View | null = null,
): Shown {
  const [x, y] = cellAt(grid, column, row);
  const { width, height } = grid.cell;
  const { pieces, within_mm, size_mm } = side;
  const view = viewOf(side.surface, camera, size_mm);
  const marks = marksOf(view.image, pieces, side.name, side.other, within_mm);
  const callOuts = sightings(marks, view.image, pieces.length)
    .slice(0, pictureDefaults.callOuts)
    .flatMap((at, k): CallOut[] =>
      at === null ? [] : [{ number: k + 1, kind: pieces[k].kind, x: at.x, y: at.y }],
    );
  const title = `${caption.title}. ${caption.line}`;
  const under = ghost === null ? [] : drawGhost(ghost, x, y);
  const items = [
    ...drawCard(grid, x, y),
    ...drawView(view, x, y, title, markPaint(marks, pieces), under),
    ...drawBands(grid, x, y, 38),
    ...drawCaption(grid, x, y, caption),
    ...drawCallOuts(callOuts, width, inner.caption, height - 40).map(item => lowered(item, y, x)),
    ...drawScaleBar(scaleBar(camera.pixelsPerMm, 0.3 * width), x + inner.side, y + height - 18, grid.text),
  ];
  return { items, view, marks };
}

/** How far the surface that a panel shows lies from the other, in colors and contour lines. */
export function drawDeviation(
  { view, marks }: Shown,
  side: Side,
  grid: Grid,
  [column, row]: readonly [number, number],
  line: string,
): { readonly items: readonly Item[]; readonly limit_mm: number } {
  const [x, y] = cellAt(grid, column, row);
  const { width, height } = grid.cell;
  const field = deviationField(view, side.other, marks, side.pieces, side.within_mm);
  const limit_mm = roundLimit(field.most_mm);
  const { values } = field;
  let [last, color] = [NaN, unchanged];
  const at = (_: number, px: number, py: number) => {
    const value = values[py * width + px];
    if (value === 0 || Number.isNaN(value)) return unchanged;
    if (value !== last) [last, color] = [value, deviationColor(value, limit_mm)];
    return color;
  };
  const levels = [-0.75, -0.5, -0.25, 0.25, 0.5, 0.75].flatMap(share => contour(field, share * limit_mm));
  const title = 'Deviation of after from before';
  return {
    limit_mm,
    items: [
      ...drawCard(grid, x, y),
      ...drawView(view, x, y, title, { keys: null, at }),
      {
        kind: 'stroke',
        color: colors.ink,
        width: 0.8,
        opacity: 0.8,
        lines: levels.map(piece => moved(piece, x, y)),
      },
      ...drawBands(grid, x, y, 50),
      ...drawCaption(grid, x, y, { title: 'Deviation', line }),
      ...drawDeviationLegend(limit_mm, x + inner.side, y + height - 36, width - 2 * inner.side, grid.text),
    ],
  };
}

function drawCard({ cell }: Grid, x: number, y: number): Item[] {
  return [{ kind: 'fill', color: colors.card, outline: rectangle(x, y, cell.width, cell.height) }];
}

/** Paler bands behind the caption and what stands at the foot, so that they can be read over a part, and the frame again. */
function drawBands({ cell }: Grid, x: number, y: number, foot: number): Item[] {
  const band = (top: number, height: number): Item => ({
    kind: 'fill',
    color: colors.card,
    opacity: 0.86,
    outline: rectangle(x, top, cell.width, height),
  });
  return [
    band(y, inner.caption),
    band(y + cell.height - foot, foot),
    {
      kind: 'stroke',
      color: colors.edge,
      width: 1,
      lines: [closed(rectangle(x, y, cell.width, cell.height))],
    },
  ];
}

function drawCaption({ cell, text }: Grid, x: number, y: number, { title, line }: Caption): Item[] {
  const left = x + inner.side;
  const used = letteringWidth(title, text + 1.5) + 14;
  const room = cell.width - 2 * inner.side - used;
  return [
    { kind: 'text', x: left, y: y + 27, text: title, size: text + 1.5, color: colors.ink, weight: 'bold' },
    {
      kind: 'text',
      x: left + used,
      y: y + 27,
      text: fitLettering(line, text - 1, Math.max(0, room)),
      size: text - 1,
      color: colors.soft,
    },
  ];
}

/** The outlines of another state, dashed. */
function drawGhost({ lines }: View, x: number, y: number): Item[] {
  const outlines = lines.filter(({ kind }) => kind === 'outline').map(({ points }) => moved(points, x, y));
  return [{ kind: 'stroke', color: colors.soft, width: 1.2, opacity: 0.8, dash: [5, 4], lines: outlines }];
}
