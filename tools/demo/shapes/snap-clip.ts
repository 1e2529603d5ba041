import { roundedRectangle, softPlate } from './outline.ts';
import { cylinder, difference, moved, turnedX, union, type Solid } from './solid.ts';
import { ellipsePath, sweep, type Station } from './sweep.ts';

/** What a snap clip is made from. All lengths in millimeters. */
export interface SnapClipParams {
  /** Diameter of the handle that the clip snaps onto. */
  readonly handle: number;
  readonly wall: number;
  readonly width: number;
  readonly segments: number;
}

export const snapClipDefaults: SnapClipParams = { handle: 10, wall: 1.8, width: 12, segments: 48 };

/** A C that springs open over a round handle, with a lead-in lip, on a foot with one screw hole. Its axis is z. */
export function snapClip(params: Partial<SnapClipParams> = {}): Solid {
  const p = { ...snapClipDefaults, ...params };
  const radius = (p.handle + p.wall) / 2;
  const section = roundedRectangle(p.wall, p.width, Math.min(0.8, p.wall / 2 - 0.05), 3);
  const jaw = sweep(section, ellipsePath(radius, radius, 140, 400, p.segments));
  const lip = (angle: number, out: number): Solid => {
    const t = (angle * Math.PI) / 180;
    const lead = ((angle + out) * Math.PI) / 180;
    const path: Station[] = [0, 3].map(step => ({
      at: [radius * Math.cos(t) + step * Math.cos(lead), radius * Math.sin(t) + step * Math.sin(lead)],
      along: [Math.cos(lead), Math.sin(lead)],
    }));
    return sweep(section, path, 3);
  };
  const foot = turnedX(moved(softPlate(22, p.width, 3, 3, 0.5, 6), 0, 0, -1.5), 90);
  const body = union(jaw, lip(40, 35), lip(140, -35), moved(foot, 3, -radius - 1.8, 0));
  const screw = turnedX(moved(cylinder(3.4, 8, p.segments), 10.5, 0, -4), 90);
  return difference(body, moved(screw, 0, -radius - 1.8, 0));
}
