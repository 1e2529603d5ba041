import type { Comparison } from '@kinprint/compare';
import type { Mesh } from '@kinprint/mesh';
import { meaning } from '../terminal/verdict-text.ts';
import { count, num } from '../terminal/words.ts';
import { cameraFor, type Camera } from './camera.ts';
import { drawChangeList } from './change-list.ts';
import { cellAt, drawDeviation, drawSide, gridOf, inner, type Side } from './change-panels.ts';
import { planChange } from './change-plan.ts';
import { changeScene, type ChangeScene } from './change-scene.ts';
import type { ChangeSubject } from './change-subject.ts';
import { regionWords, type ChangedPlace } from './change-words.ts';
import { colors } from './colors.ts';
import { pictureDefaults } from './defaults.ts';
import { threeQuarter } from './directions.ts';
import { heading, type PictureOptions } from './part-picture.ts';
import { scaleBar } from './scale-bar.ts';
import type { Item, Sheet } from './sheet.ts';

export interface ChangePicture {
  readonly sheet: Sheet;
  /** Of the whole part, then of the closer look where there is one. */
  readonly cameras: readonly Camera[];
  /** How many times larger the closer look shows things than all of the part would be. */
  readonly enlarged: number;
  /** Of the whole part. */
  readonly scaleBar_mm: number;
  readonly callOuts: readonly ChangedPlace[];
  /** The ends of the deviation scale; null where there is none. */
  readonly deviationLimit_mm: number | null;
}

/**
 * The picture of a change: before and after in one three-quarter view, added and removed material marked; the same
 * closer, from where it shows best; how far the surface moved; and the largest pieces in words. Where nothing but the
 * place, the hand or the size differs, the first row is all there is.
 */
export function changePicture(
  subject: ChangeSubject,
  options: PictureOptions = {},
  scene: ChangeScene = changeScene(subject),
): ChangePicture {
  const { comparison: c } = subject;
  const width = options.width ?? pictureDefaults.change.width;
  const grid = gridOf(width, options.height ?? pictureDefaults.change.height);
  const { apart, states, surfaces, pieces, size_mm, within_mm } = scene;
  const { before, after, trees } = states;
  const places = c.regions
    .slice(0, pictureDefaults.callOuts)
    .map((region, k): ChangedPlace => ({ number: k + 1, kind: region.kind, ...regionWords(region, c) }));
  const common = { pieces, within_mm, size_mm };
  const from: Side = { name: 'before', surface: surfaces.before, other: trees.after, ...common };
  const to: Side = { name: 'after', surface: surfaces.after, other: trees.before, ...common };

  const frame = { width_px: grid.cell.width, height_px: grid.cell.height, margin_px: inner.margin };
  const plan = apart ? null : planChange(scene, frame);
  const whole = plan === null ? evenCameras(before, after, frame) : { before: plan.whole, after: plan.whole };
  const seen = `from the ${whole.after.direction.name}`;
  const first = drawSide(from, whole.before, grid, [0, 0], { title: 'Before', line: seen });
  const ghost = apart ? null : first.view;
  const second = drawSide(to, whole.after, grid, [1, 0], { title: 'After', line: seen }, ghost);

  const cameras = [whole.after];
  const items: Item[] = [...first.items, ...second.items];
  let deviationLimit_mm: number | null = null;
  if (plan !== null) {
    const camera = plan.closer;
    cameras.push(camera);
    const near = plan.enlarged > 1 ? `, ${num(plan.enlarged, 1)} times as large` : '';
    const line = `from the ${camera.direction.name}${near}`;
    const shown = drawSide(to, camera, grid, [1, 1], { title: 'After', line });
    const deviation = drawDeviation(shown, to, grid, [2, 1], line);
    deviationLimit_mm = deviation.limit_mm;
    items.push(
      ...drawSide(from, camera, grid, [0, 1], { title: 'Before', line }).items,
      ...shown.items,
      ...deviation.items,
    );
  }
  const [x, y] = cellAt(grid, 2, 0);
  const more = pieces.length - places.length;
  const list = { comparison: c, places, more, ghost: !apart, x, y, ...grid.cell, size: grid.text };
  const names = `${subject.before} → ${subject.after}`;
  const head = heading(
    subject.title,
    `${names} · ${c.verdict}: ${meaning(c)}`,
    grid.pad,
    grid.pad - 6,
    width - 2 * grid.pad,
    { title: 15, small: grid.text },
  );
  const rows = apart ? 1 : 2;
  return {
    sheet: {
      width,
      height: grid.top + rows * grid.cell.height + (rows - 1) * grid.gap + grid.pad,
      background: colors.page,
      title: subject.title,
      description: inWords(names, c, places, more),
      items: [...head, ...items, ...drawChangeList(list)],
    },
    cameras,
    enlarged: plan?.enlarged ?? 1,
    scaleBar_mm: scaleBar(whole.after.pixelsPerMm, 0.3 * grid.cell.width).length_mm,
    callOuts: places,
    deviationLimit_mm,
  };
}

/** Two parts that have no frame in common: the same direction and scale. */
function evenCameras(
  before: Mesh,
  after: Mesh,
  frame: Parameters<typeof cameraFor>[2],
): { readonly before: Camera; readonly after: Camera } {
  const [a, b] = [before, after].map(mesh => cameraFor([mesh], threeQuarter[0], frame));
  // An empty side has no scale of its own.
  const scales = [before, after].flatMap((mesh, k) =>
    mesh.triangles.length > 0 ? [[a, b][k].pixelsPerMm] : [],
  );
  const pixelsPerMm = scales.length > 0 ? Math.min(...scales) : a.pixelsPerMm;
  return { before: { ...a, pixelsPerMm }, after: { ...b, pixelsPerMm } };
}

function inWords(names: string, c: Comparison, places: readonly ChangedPlace[], more: number): string {
  return [
    `${names}: ${c.verdict}. ${meaning(c)}`,
    ...places.map(each => `${each.number}: ${each.what}, ${each.amount}.`),
    more > 0 ? `${count(more)} smaller places.` : '',
  ]
    .filter(Boolean)
    .join(' ');
}
