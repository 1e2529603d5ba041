import { projectAll, type DepthImage } from './depth-image.ts';
import { pictureDefaults } from './defaults.ts';
import type { Surface } from './surface.ts';

/** A visible line of a part, in pixels. */
export interface VisibleLine {
  /** `outline`: the part ends here, or stands before something farther; `edge`: two faces meet; `open`: one ends. */
  readonly kind: 'outline' | 'edge' | 'open';
  /** x, y of the points. */
  readonly points: readonly number[];
}

/**
 * The lines of a part that can be seen: outlines, edges where faces meet sharply, and ends of open surfaces.
 *
 * Each candidate is walked in steps of one sample. It is seen where, within a sample, the image shows one of its own
 * faces or nothing nearer than itself; so a line is right to about one sample. An outline counts only where the surface
 * behind it is clearly farther away: small folds of scanned surfaces are not drawn.
 */
export function visibleLines(surface: Surface, image: DepthImage): VisibleLine[] {
  const { mesh, normals, twins } = surface;
  const { triangles } = mesh;
  const { camera, samples } = image;
  const { x, y, depth } = projectAll(mesh, camera, samples);
  // Only open surfaces show their back.
  const closed = !twins.includes(-1);
  const [tx, ty, tz] = camera.toward;
  const faces = triangles.length / 3;
  const side = new Int8Array(faces);
  for (let f = 0, k = 0; f < faces; f++, k += 3) {
    const facing = normals[k] * tx + normals[k + 1] * ty + normals[k + 2] * tz;
    side[f] = facing > 1e-6 ? 1 : facing < -1e-6 ? -1 : 0;
  }
  const jump_mm = Math.max(4 / (camera.pixelsPerMm * samples), 0);
  const found = new Runs(samples);
  for (let h = 0; h < triangles.length; h++) {
    const twin = twins[h];
    if (twin > h) continue;
    const f = (h / 3) | 0;
    const a = triangles[h];
    const b = triangles[h % 3 === 2 ? h - 2 : h + 1];
    if (!(x[a] === x[a] && x[b] === x[b])) continue;
    let kind: VisibleLine['kind'];
    let g = -1;
    if (twin < 0) kind = 'open';
    else {
      g = (twin / 3) | 0;
      if (side[f] !== side[g] && (side[f] > 0 || side[g] > 0)) kind = 'outline';
      else if (closed && side[f] <= 0 && side[g] <= 0) continue;
      else if (cosine(normals, f, g) < pictureDefaults.creaseCosine) kind = 'edge';
      else continue;
    }
    found.walk(image, kind, x[a], y[a], depth[a], x[b], y[b], depth[b], f, g, jump_mm);
  }
  return joined(found.lines);
}

function cosine(n: Float64Array, f: number, g: number): number {
  const [i, j] = [3 * f, 3 * g];
  return n[i] * n[j] + n[i + 1] * n[j + 1] + n[i + 2] * n[j + 2];
}

/** Collects the visible runs of candidates. */
class Runs {
  readonly lines: VisibleLine[] = [];
  private readonly samples: number;

  constructor(samples: number) {
    this.samples = samples;
  }

  walk(
    image: DepthImage,
    kind: VisibleLine['kind'],
    ax: number,
    ay: number,
    az: number,
    bx: number,
    by: number,
    bz: number,
    f: number,
    g: number,
    jump_mm: number,
  ): void {
    const dx = bx - ax;
    const dy = by - ay;
    const length = Math.sqrt(dx * dx + dy * dy);
    if (!(length > 0)) return;
    const outside =
      (ax < 0 && bx < 0) ||
      (ay < 0 && by < 0) ||
      (ax > image.width && bx > image.width) ||
      (ay > image.height && by > image.height);
    if (outside) return;
    // Of a line that leads far out of the picture only what is within is walked.
    const [from, to] = within(ax, ay, dx, dy, image.width, image.height);
    if (!(from < to)) return;
    const steps = Math.max(1, Math.ceil(length * (to - from)));
    const step = (to - from) / steps;
    const bias = 0.5 * (jump_mm / 4);
    let begin = -1;
    for (let i = 0; i < steps; i++) {
      const t = from + (i + 0.5) * step;
      const seen = this.sees(
        image,
        kind,
        ax + t * dx,
        ay + t * dy,
        az + t * (bz - az),
        f,
        g,
        bias,
        jump_mm,
        dx / length,
        dy / length,
      );
      if (seen && begin < 0) begin = i;
      if (!seen && begin >= 0) {
        this.add(kind, ax, ay, dx, dy, from + begin * step, from + i * step);
        begin = -1;
      }
    }
    if (begin >= 0) this.add(kind, ax, ay, dx, dy, from + begin * step, to);
  }

  private sees(
    { width, height, depth, face }: DepthImage,
    kind: VisibleLine['kind'],
    x: number,
    y: number,
    z: number,
    f: number,
    g: number,
    bias: number,
    jump_mm: number,
    ux: number,
    uy: number,
  ): boolean {
    const i = Math.floor(x);
    const j = Math.floor(y);
    let seen = false;
    for (let q = j - 1; q <= j + 1 && !seen; q++) {
      for (let p = i - 1; p <= i + 1; p++) {
        if (p < 0 || q < 0 || p >= width || q >= height) continue;
        const k = q * width + p;
        if (face[k] === f || (g >= 0 && face[k] === g) || depth[k] <= z + bias) {
          seen = true;
          break;
        }
      }
    }
    if (!seen || kind !== 'outline') return seen;
    // Two samples to either side: one of them must be clearly farther.
    for (const s of [2.5, -2.5]) {
      const p = Math.floor(x - s * uy);
      const q = Math.floor(y + s * ux);
      if (p < 0 || q < 0 || p >= width || q >= height) return true;
      if (depth[q * width + p] < z - jump_mm) return true;
    }
    return false;
  }

  private add(
    kind: VisibleLine['kind'],
    ax: number,
    ay: number,
    dx: number,
    dy: number,
    t0: number,
    t1: number,
  ): void {
    const s = this.samples;
    this.lines.push({
      kind,
      points: [(ax + t0 * dx) / s, (ay + t0 * dy) / s, (ax + t1 * dx) / s, (ay + t1 * dy) / s],
    });
  }
}

/** The part of a line that lies in the picture, as shares of its length. */
function within(
  ax: number,
  ay: number,
  dx: number,
  dy: number,
  width: number,
  height: number,
): [number, number] {
  let [from, to] = [0, 1];
  for (const [p, d, most] of [
    [ax, dx, width],
    [ay, dy, height],
  ]) {
    if (d === 0) continue;
    const [t0, t1] = [-p / d, (most - p) / d];
    from = Math.max(from, Math.min(t0, t1));
    to = Math.min(to, Math.max(t0, t1));
  }
  return [from, to];
}

/** Lines that go on in one another become one, so that drawings stay small. */
function joined(lines: readonly VisibleLine[]): VisibleLine[] {
  const key = (kind: string, x: number, y: number): string =>
    `${kind}${Math.round(x * 64)},${Math.round(y * 64)}`;
  const starts = new Map<string, number[]>();
  lines.forEach(({ kind, points }, k) => {
    for (const end of [0, 2]) {
      const at = key(kind, points[end], points[end + 1]);
      const list = starts.get(at);
      if (list === undefined) starts.set(at, [2 * k + end / 2]);
      else list.push(2 * k + end / 2);
    }
  });
  const used = new Uint8Array(lines.length);
  const out: VisibleLine[] = [];
  const follow = (points: number[], kind: VisibleLine['kind']): void => {
    for (;;) {
      const at = key(kind, points[points.length - 2], points[points.length - 1]);
      const next = (starts.get(at) ?? []).find(end => used[end >> 1] === 0);
      if (next === undefined) return;
      used[next >> 1] = 1;
      const p = lines[next >> 1].points;
      if ((next & 1) === 0) points.push(p[2], p[3]);
      else points.push(p[0], p[1]);
    }
  };
  lines.forEach(({ kind, points }, k) => {
    if (used[k] === 1) return;
    used[k] = 1;
    const chain = [...points];
    follow(chain, kind);
    const back: number[] = [chain[2], chain[3], chain[0], chain[1]];
    const reversed = [back[2], back[3]];
    follow(reversed, kind);
    const head: number[] = [];
    for (let i = reversed.length - 2; i >= 2; i -= 2) head.push(reversed[i], reversed[i + 1]);
    out.push({ kind, points: straightened([...head, ...chain]) });
  });
  return out;
}

/** Without the points that lie on the line between their neighbors, to 1/20 of a pixel. */
function straightened(p: readonly number[]): number[] {
  const out = [p[0], p[1]];
  for (let k = 2; k + 3 < p.length; k += 2) {
    const [ax, ay] = [out[out.length - 2], out[out.length - 1]];
    const [dx, dy] = [p[k + 2] - ax, p[k + 3] - ay];
    const [ex, ey] = [p[k] - ax, p[k + 1] - ay];
    const length = Math.sqrt(dx * dx + dy * dy);
    const off = length > 0 ? Math.abs(dx * ey - dy * ex) / length : 1;
    const along = ex * dx + ey * dy;
    if (off > 0.05 || along < 0 || along > length * length) out.push(p[k], p[k + 1]);
  }
  out.push(p[p.length - 2], p[p.length - 1]);
  return out;
}
