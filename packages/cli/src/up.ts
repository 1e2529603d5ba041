import type { Vec3 } from '@kinprint/mesh';

const axes: Record<string, Vec3> = {
  x: [1, 0, 0],
  '-x': [-1, 0, 0],
  y: [0, 1, 0],
  '-y': [0, -1, 0],
  z: [0, 0, 1],
  '-z': [0, 0, -1],
};

/** The build direction that `--up` names; z for anything else (the choices are checked before). */
export function upDirection(name: string): Vec3 {
  return axes[name] ?? [0, 0, 1];
}
