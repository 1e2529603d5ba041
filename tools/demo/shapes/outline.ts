import { hull, cylinder, moved, type Solid, type Vec2 } from './solid.ts';

/** A rectangle with rounded corners about the origin, counter-clockwise; `sides` facets per corner. */
export function roundedRectangle(width: number, height: number, radius: number, sides: number): Vec2[] {
  const points: Vec2[] = [];
  const x = width / 2 - radius;
  const y = height / 2 - radius;
  const corners: readonly Vec2[] = [
    [x, y],
    [-x, y],
    [-x, -y],
    [x, -y],
  ];
  corners.forEach(([cx, cy], quarter) => {
    for (let i = 0; i <= sides; i++) {
      const angle = ((quarter + i / sides) * Math.PI) / 2;
      points.push([cx + radius * Math.cos(angle), cy + radius * Math.sin(angle)]);
    }
  });
  return points;
}

/** A plate with rounded corners and beveled edges, standing on z = 0. All edges can be printed without support. */
export function softPlate(
  width: number,
  depth: number,
  height: number,
  radius: number,
  bevel: number,
  sides: number,
): Solid {
  const rim = (x: number, y: number): Solid[] => [
    moved(cylinder(2 * (radius - bevel), height, 4 * sides), x, y, 0),
    moved(cylinder(2 * radius, height - 2 * bevel, 4 * sides), x, y, bevel),
  ];
  const x = width / 2 - radius;
  const y = depth / 2 - radius;
  return hull(...rim(x, y), ...rim(-x, y), ...rim(-x, -y), ...rim(x, -y));
}

/** A slot with round ends along x, standing on z = 0: what cuts a strap opening. */
export function slot(length: number, width: number, height: number, segments: number): Solid {
  const reach = (length - width) / 2;
  return hull(
    moved(cylinder(width, height, segments), reach, 0, 0),
    moved(cylinder(width, height, segments), -reach, 0, 0),
  );
}
