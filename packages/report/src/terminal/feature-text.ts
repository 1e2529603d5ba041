import type { Feature } from '@kinprint/mesh';
import { direction, num, point } from './words.ts';

const noun = { bore: 'bore', pin: 'pin', plane: 'face' } as const;

/** `bore ⌀3.20`, `face toward z`. */
export function featureName(feature: Feature): string {
  switch (feature.kind) {
    case 'bore':
    case 'pin':
      return `${noun[feature.kind]} ⌀${num(feature.diameter_mm)}`;
    case 'plane':
      return `face toward ${direction(feature.axis)}`;
  }
}

/** The cells of one line in a list of bores and pins. */
export function roundCells(feature: Extract<Feature, { kind: 'bore' | 'pin' }>): string[] {
  const open = feature.through === null ? '' : feature.through ? 'through' : 'blind';
  const turn = feature.turn > 0.95 ? '' : `${Math.round(feature.turn * 360)}° of turn`;
  return [
    featureName(feature),
    `${num(feature.inscribed_diameter_mm)} across flats`,
    `${num(feature.length_mm)} long`,
    `along ${direction(feature.axis)}`,
    `at ${point(feature.at_mm, 1)}`,
    [open, turn].filter(Boolean).join(', '),
  ];
}
