import type { Feature, Plane } from '@kinprint/mesh';
import { columns } from './layout.ts';
import { direction, num, point } from './words.ts';

const noun = { bore: 'bore', pin: 'pin', plane: 'face' } as const;

/** `bore ⌀3.20`, `face toward z`. */
export function featureName(feature: Feature): string {
  switch (feature.kind) {
    case 'bore':
    case 'pin':
      return `${noun[feature.kind]} ⌀${num(feature.diameter_mm)}`;
    case 'plane':
      return `face toward ${direction(feature.axis, 2)}`;
  }
}

type Round = Exclude<Feature, Plane>;

/** A table of bores and pins, with a head. */
export function roundTable(rounds: readonly Round[]): string[] {
  const head = ['', '⌀', 'flats', 'length', 'axis', 'middle', ''];
  const rows = rounds.map(f => [
    f.kind,
    num(f.diameter_mm),
    num(f.inscribed_diameter_mm),
    num(f.length_mm),
    direction(f.axis, 2),
    point(f.at_mm, 1),
    [
      f.through === null ? '' : f.through ? 'through' : 'blind',
      f.turn > 0.98 ? '' : `${Math.round(f.turn * 360)}°`,
    ]
      .filter(Boolean)
      .join(' '),
  ]);
  return columns([head, ...rows], [1, 2, 3]);
}

/** A table of planes, with a head. */
export function planeTable(planes: readonly Plane[]): string[] {
  const rows = planes.map(f => ['plane', num(f.area_mm2, 1), direction(f.axis, 2), point(f.at_mm, 1)]);
  return columns([['', 'area mm²', 'toward', 'middle'], ...rows], [1]);
}
