import type { Vec3 } from '@kinprint/mesh';
import { bestLook } from './best-look.ts';
import { listen } from './canvas-input.ts';
import { controlsOf } from './controls.ts';
import type { Part } from './load.ts';
import { lengthText, measured, measuredText } from './measure.ts';
import { modesOf, pickedSides, sceneriesOf, sceneryNames, type Mode, type Scenery } from './modes.ts';
import { anglesToward, axesOf, between, fittingSpan, type Orbit } from './orbit.ts';
import {
  drawBubble,
  drawCaption,
  drawCrosshair,
  drawDivider,
  drawLegend,
  drawMeasure,
  drawRing,
  drawScale,
  drawTriad,
  scaleText,
} from './overlay.ts';
import { paneAt, panesOf } from './panes.ts';
import type { Side } from '../review-page/part-data.ts';
import { pick, type Cut, type Picked } from './pick.ts';
import { scenesOf, type DeviationScene } from './scenes.ts';
import { sideBySide } from './side-by-side.ts';
import { cutOf, sectionAt, type Section } from './section.ts';
import type { Spot } from './spot.ts';
import type { Pane, Stage } from './stage.ts';
import { themeOf } from './theme.ts';
import { add, dot, minus, unit } from './vector.ts';

/** A viewer that is on the page. */
export interface Viewer {
  /** Shows a changed piece, or another place, from where it shows best. */
  show(what: Target): void;
  /** Draws again, e.g. in other colors. */
  redraw(): void;
  close(): void;
}

export type Target = { readonly region: number } | { readonly place: number };

interface Point extends Picked {
  readonly side: Side;
}

/** Screen pixels within which a vertex takes the point that is picked. */
const reach_px = 10;
/** Bubbles of one picture, as in still pictures. */
const callOuts = 6;
/** Pixels between the middles of two bubbles at least. */
const bubbleApart = 22;
const threeQuarter: Vec3 = [4, -6, 4];
const flight_ms = 420;

/** Puts a viewer of a part into `host`, which is empty. */
export function openViewer(host: HTMLElement, part: Part, stage: Stage, id: string): Viewer {
  const { data } = part;
  const sides = [...part.sides.keys()];
  const modes = modesOf(part);
  const scenes = scenesOf(part);
  const first: Orbit = {
    target_mm: part.center_mm,
    ...anglesToward(threeQuarter),
    span_mm: part.size_mm || 1,
  };
  let orbit = first;
  /** Whether the view is one of all of the part, which follows the size of the picture. */
  let wholly = true;
  let mode: Mode = modes[0];
  let section: Section | null = null;
  let points: Point[] = [];
  let measuring = false;
  let chosen: Target | null = null;
  let deviation: DeviationScene | null = null;
  let closed = false;
  let frame = 0;
  let flight = 0;

  const controls = controlsOf(id, modes, {
    mode: chooseMode,
    look: toward => fly(whole(toward ?? threeQuarter), true),
    section: (next: Section | null) => {
      section = next;
      if (next !== null) controls.sectionAt(sectionText(next));
      draw();
    },
    measuring: (on: boolean) => {
      measuring = on;
      points = [];
      controls.say(
        on ? 'Pick two points: click, or move the part under the cross with the keys and press Enter.' : '',
      );
      draw();
    },
  });
  controls.root.dataset.mode = mode;
  host.append(controls.root);
  const { canvas } = controls;
  const context = canvas.getContext('2d') as CanvasRenderingContext2D;
  const resized = new ResizeObserver(refit);
  resized.observe(canvas);
  listen(canvas, {
    orbit: () => orbit,
    perPixel: () => orbit.span_mm / Math.min(panes()[0].width, panes()[0].height),
    size_mm: part.size_mm,
    moved: next => {
      flight++;
      wholly = false;
      orbit = next;
      draw();
    },
    picked: spot => pickAt(spot),
    reset: () => fly(whole(threeQuarter), true),
    focused: () => draw(),
  });
  refit();

  return {
    show,
    redraw: draw,
    close: () => {
      closed = true;
      cancelAnimationFrame(frame);
      resized.disconnect();
      scenes.dispose();
      stage.renderer.renderLists.dispose();
      controls.root.remove();
    },
  };

  function sceneries(): readonly Scenery[] {
    return sceneriesOf(mode, sides);
  }

  function panes(): Pane[] {
    return panesOf(sceneries().length, canvas.clientWidth, canvas.clientHeight);
  }

  /** All of the part, as large as the picture allows. */
  function whole(toward: Vec3): Orbit {
    const angles = anglesToward(toward);
    const [pane] = panes();
    const fitting = pane.width > 0 && pane.height > 0 ? fittingSpan(part.extent_mm, angles, pane) : 0;
    return { ...first, ...angles, span_mm: fitting > 0 ? fitting : first.span_mm };
  }

  function cut(): Cut | null {
    return section === null ? null : cutOf(section, part);
  }

  function sectionText(shown: Section): string {
    return `${shown.axis} = ${lengthText(sectionAt(shown, part), data.geometry.step_mm)} mm`;
  }

  /** Where a side stands, seen from the frame that the orbit is in. */
  function offset(side: Side): Vec3 {
    const shape = part.sides.get(side);
    return data.apart && shape !== undefined ? minus(shape.center_mm, part.center_mm) : [0, 0, 0];
  }

  function refit(): void {
    if (wholly) orbit = whole(axesOf(orbit).toward);
    draw();
  }

  function chooseMode(next: Mode): void {
    mode = next;
    points = [];
    controls.root.dataset.mode = next;
    if (next === 'deviation' && deviation === null) void findDeviation();
    else if (next === 'deviation' && deviation !== null) controls.say(deviationText(deviation));
    else controls.say('');
    refit();
  }

  async function findDeviation(): Promise<void> {
    controls.say('Finding distances …');
    const pause = (): Promise<void> =>
      new Promise((go, stop) => setTimeout(() => (closed ? stop(new Error('closed')) : go()), 0));
    try {
      await pause();
      deviation = await scenes.deviation(pause);
    } catch (error) {
      if (closed) return;
      throw error;
    }
    if (mode === 'deviation') controls.say(deviationText(deviation));
    draw();
  }

  function deviationText({ limit_mm, spacing_mm }: DeviationScene): string {
    const ends = [-limit_mm, limit_mm].map(scaleText);
    return `Brown is inward, to ${ends[0]} mm; blue is outward, to ${ends[1]} mm; lines at quarters of the scale. Distances are taken at points at most ${Number(spacing_mm.toPrecision(2))} mm apart.`;
  }

  function show(what: Target): void {
    chosen = what;
    if ('region' in what) {
      const region = data.regions[what.region];
      const shape = part.regions[what.region];
      const whole = part.sides.get('after') ?? [...part.sides.values()][0];
      const toward = bestLook(shape.surface(), whole.tree(), part.size_mm);
      lookAt(region.center_mm, region.size_mm, toward);
      controls.say(`Shown: ${region.number}, ${region.label}.`);
    } else {
      const place = data.places[what.place];
      // Along a bore, but not squarely: its depth is to be seen too.
      const toward = place.axis === null ? null : unit(add(unit(threeQuarter), facing(place.axis), 1.6));
      lookAt(place.at_mm, place.size_mm, toward);
      controls.say(`Shown: ${place.label}.`);
    }
    canvas.scrollIntoView({ block: 'nearest', behavior: still() ? 'auto' : 'smooth' });
  }

  /** Of a direction and its opposite, the one toward the eye as it is. */
  function facing(axis: Vec3): Vec3 {
    return dot(axis, axesOf(orbit).toward) < 0 ? minus([0, 0, 0], axis) : axis;
  }

  function lookAt(at_mm: Vec3, size_mm: number, toward: Vec3 | null): void {
    const span_mm = Math.min(first.span_mm, Math.max(3.2 * size_mm, 0.16 * first.span_mm));
    fly({
      target_mm: at_mm,
      ...(toward === null ? { azimuth: orbit.azimuth, elevation: orbit.elevation } : anglesToward(toward)),
      span_mm,
    });
  }

  function still(): boolean {
    return matchMedia('(prefers-reduced-motion: reduce)').matches;
  }

  function fly(to: Orbit, all = false): void {
    const number = ++flight;
    wholly = false;
    if (still()) {
      orbit = to;
      wholly = all;
      draw();
      return;
    }
    const from = orbit;
    const start = performance.now();
    const step = (now: number): void => {
      if (closed || number !== flight) return;
      const t = Math.min(1, Math.max(0, (now - start) / flight_ms));
      orbit = between(from, to, t * t * (3 - 2 * t));
      draw();
      if (t < 1) requestAnimationFrame(step);
      else wholly = all;
    };
    requestAnimationFrame(step);
  }

  function pickAt(spot: Spot | null): void {
    if (!measuring) return;
    const all = panes();
    const last = all[all.length - 1];
    const { x, y } = spot ?? { x: last.x + last.width / 2, y: last.y + last.height / 2 };
    const k = paneAt(all, x, y);
    if (k < 0) return;
    const found = pickIn(sceneries()[k], all[k], x, y);
    if (found === null) {
      controls.say('There is no surface at that point.');
      return;
    }
    // Between states that stand for themselves there is no distance.
    const fits = points.length === 1 && (!data.apart || points[0].side === found.side);
    points = fits ? [points[0], found] : [found];
    const where = (p: Point): string =>
      `(${p.at_mm.map(v => lengthText(v, data.geometry.step_mm)).join(', ')}) mm${p.snapped ? ', a corner' : ''}`;
    controls.say(
      points.length === 2
        ? measuredText(measured(points[0].at_mm, points[1].at_mm), data.geometry.step_mm)
        : `First point at ${where(found)}. Pick the second.`,
    );
    draw();
  }

  function pickIn(scenery: Scenery, pane: Pane, x: number, y: number): Point | null {
    const perPixel = orbit.span_mm / Math.min(pane.width, pane.height);
    const { right, up, toward } = axesOf(orbit);
    const middle = add(
      add(orbit.target_mm, right, (x - pane.x - pane.width / 2) * perPixel),
      up,
      (pane.y + pane.height / 2 - y) * perPixel,
    );
    const reach = 4 * (part.size_mm + Math.hypot(...minus(orbit.target_mm, part.center_mm)));
    let best: { point: Point; depth: number } | null = null;
    for (const side of pickedSides(scenery)) {
      const shape = part.sides.get(side);
      if (shape === undefined) continue;
      const by = offset(side);
      const shown = cut();
      const picked = pick(
        { tree: shape.tree(), positions: shape.mesh.positions, closed: data.closed[side] },
        { from: add(add(middle, toward, reach), by), along: minus([0, 0, 0], toward) },
        shown === null ? null : { ...shown, at: shown.at + dot(shown.normal, by) },
        reach_px * perPixel,
      );
      if (picked === null) continue;
      const depth = dot(minus(picked.at_mm, by), toward);
      if (best === null || depth > best.depth + 1e-9) best = { point: { ...picked, side }, depth };
    }
    return best?.point ?? null;
  }

  function draw(): void {
    if (closed || frame !== 0) return;
    frame = requestAnimationFrame(() => {
      frame = 0;
      if (!closed) paint();
    });
  }

  function paint(): void {
    const pixel = Math.min(2, devicePixelRatio || 1);
    const [width, height] = [Math.round(canvas.clientWidth * pixel), Math.round(canvas.clientHeight * pixel)];
    if (width < 1 || height < 1) return;
    if (canvas.width !== width) canvas.width = width;
    if (canvas.height !== height) canvas.height = height;
    const theme = themeOf(canvas);
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.fillStyle = theme.stage;
    context.fillRect(0, 0, width, height);
    const all = panes();
    sceneries().forEach((scenery, k) => {
      const scene =
        scenery === 'deviation' ? (deviation?.scene ?? scenes.scene('after')) : scenes.scene(scenery);
      context.setTransform(1, 0, 0, 1, 0, 0);
      stage.draw(
        scene,
        scenes.shared,
        orbit,
        { center: part.center_mm, reach_mm: part.size_mm, cut: cut() },
        context,
        all[k],
        pixel,
      );
    });
    context.setTransform(pixel, 0, 0, pixel, 0, 0);
    sceneries().forEach((scenery, k) => annotate(scenery, all[k], theme));
    canvas.dataset.mode = mode;
    canvas.dataset.drawn = String(Number(canvas.dataset.drawn ?? '0') + 1);
  }

  function annotate(scenery: Scenery, pane: Pane, theme: ReturnType<typeof themeOf>): void {
    const axes = axesOf(orbit);
    const perMm = Math.min(pane.width, pane.height) / orbit.span_mm;
    const spotOf = (p: Vec3): Spot => {
      const d = minus(p, orbit.target_mm);
      return {
        x: pane.x + pane.width / 2 + perMm * dot(d, axes.right),
        y: pane.y + pane.height / 2 - perMm * dot(d, axes.up),
      };
    };
    context.save();
    context.beginPath();
    context.rect(pane.x, pane.y, pane.width, pane.height);
    context.clip();
    const isChosen = (k: number): boolean => chosen !== null && 'region' in chosen && chosen.region === k;
    const told = data.regions
      .map((region, k) => ({ region, chosen: isChosen(k), shown: k < callOuts || isChosen(k) }))
      .filter(({ region, shown }) => shown && !(region.kind === 'added' && scenery === 'before'))
      // The chosen one stays in its place, then what is nearest to the eye.
      .sort(
        (a, b) =>
          Number(b.chosen) - Number(a.chosen) ||
          dot(b.region.center_mm, axes.toward) - dot(a.region.center_mm, axes.toward),
      );
    const middles = sideBySide(
      told.map(({ region }) => spotOf(region.center_mm)),
      bubbleApart,
    );
    told.forEach(({ region, chosen: isIt }, k) => {
      const look = { kind: region.kind, chosen: isIt };
      drawBubble(context, theme, middles[k], String(region.number), look);
    });
    if (chosen !== null && 'place' in chosen && !data.apart)
      drawRing(context, theme, spotOf(data.places[chosen.place].at_mm));
    drawCaption(context, theme, pane, sceneryNames[scenery]);
    drawScale(context, theme, pane, perMm);
    drawTriad(context, theme, pane, axes);
    if (scenery === 'deviation' && deviation !== null) drawLegend(context, theme, pane, deviation.limit_mm);
    const shown = points.filter(point => !data.apart || point.side === scenery);
    const spots = shown.map(point => spotOf(minus(point.at_mm, offset(point.side))));
    if (measuring) {
      const text =
        points.length === 2
          ? `${lengthText(measured(points[0].at_mm, points[1].at_mm).distance_mm, data.geometry.step_mm)} mm`
          : '';
      drawMeasure(context, theme, spots, text);
      if (document.activeElement === canvas && scenery !== 'before') drawCrosshair(context, theme, pane);
    }
    drawDivider(context, theme, pane);
    context.restore();
  }
}
