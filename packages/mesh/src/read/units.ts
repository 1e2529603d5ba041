import type { Mesh, Unit } from '../types.ts';

/**
 * Millimeters in one unit. The names are those of the 3MF Core Specification 1.4.0, 3.4; the inch is the
 * international inch of 1959, exactly 25.4 mm.
 */
export const millimetersPer: Readonly<Record<Unit, number>> = {
  micron: 0.001,
  millimeter: 1,
  centimeter: 10,
  inch: 25.4,
  foot: 304.8,
  meter: 1000,
};

/** The unit to read a file in: the one asked for, else the file's own, else millimeters as an assumption. */
export function unitFor(own: Unit | null, asked: Unit | undefined): { unit: Unit; unitAssumed: boolean } {
  if (asked !== undefined) return { unit: asked, unitAssumed: false };
  return { unit: own ?? 'millimeter', unitAssumed: own === null };
}

/** The mesh with its numbers, so far in `unit`, in millimeters; in double precision unless it already was. */
export function inMillimeters(mesh: Mesh, unit: Unit): Mesh {
  const factor = millimetersPer[unit];
  if (factor === 1) return mesh;
  const positions = Float64Array.from(mesh.positions);
  // Dividing keeps 1500 micron at 1.5: 0.001 itself is no binary fraction.
  for (let i = 0; i < positions.length; i++) positions[i] = toMillimeters(positions[i], unit);
  return { positions, triangles: mesh.triangles };
}

/** One length in `unit`, in millimeters, rounded once. */
export function toMillimeters(value: number, unit: Unit): number {
  return unit === 'micron' ? value / 1000 : value * millimetersPer[unit];
}
