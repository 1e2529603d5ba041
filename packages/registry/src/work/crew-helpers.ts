import type { Helpers } from '@kinprint/compare';
import type { Crew } from './crew.ts';

/** The parts of a comparison that a crew can share. */
export function crewHelpers(crew: Crew): Helpers {
  return {
    tree: mesh => crew.offer('tree', mesh),
    sideVertices: task => crew.offer('sideVertices', task),
    sideRange: task => crew.offer('sideRange', task),
  };
}
