import { massProperties, type Mesh, pairEdges } from '@kinprint/mesh';

/** The signed volume of one body in mm³; null when its faces do not form a closed cycle. */
export function bodyVolume(mesh: Mesh): number | null {
  return pairEdges(mesh).closedCycle ? massProperties(mesh).volume : null;
}
