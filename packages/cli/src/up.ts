import { buildDirections, type Vec3 } from '@kinprint/mesh';

const named: Readonly<Record<string, Vec3>> = buildDirections;

/** The build direction that `--up` names; z for anything else (the choices are checked before). */
export function upDirection(name: string): Vec3 {
  return named[name] ?? buildDirections.z;
}
