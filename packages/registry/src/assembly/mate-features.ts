import type { Plane } from '@kinprint/mesh';
import type { VariantDocument } from '@kinprint/manifest';
import type { PartLook } from '../check/facts.ts';
import { meantPair, meantPlane, type Flat } from '../check/rules/flats.ts';
import { largestCoordinate } from '../check/rules/judge-interface.ts';
import { matchRounds, type Round } from '../check/rules/match-rounds.ts';
import { axisOf, type Axis } from './axes.ts';
import type { InterfaceAt } from './declared-mates.ts';
import type { Instance } from './instances.ts';
import { placedFlat, type PlacedFlat } from './placed-flats.ts';

/** A feature of a placed part. */
export interface Placed<Feature> {
  readonly instance: Instance;
  readonly feature: Feature;
}

/** What the declared interfaces mean in the meshes, and where that is placed. */
export interface MateFeatures {
  /** Of a bore or pin; none where it was not found. */
  readonly rounds: (at: InterfaceAt) => readonly Round[];
  /** Of a slot, tongue or face. */
  readonly flat: (at: InterfaceAt) => Flat | null;
  readonly axes: (at: InterfaceAt) => Placed<Axis>[];
  readonly flats: (at: InterfaceAt) => Placed<PlacedFlat>[];
}

/**
 * @param looks what was measured of the parts, by their index
 * @param planes what a closer look found, by the part's index; nothing or null: the largest planes of its mesh
 */
export function mateFeatures(
  manifest: VariantDocument,
  looks: readonly (PartLook | null | undefined)[],
  planes: readonly (readonly Plane[] | null)[],
  placed: readonly Instance[],
): MateFeatures {
  const found = manifest.parts.map(({ interfaces = [] }, k) => {
    const look = looks[k];
    if (look?.state !== 'measured' || interfaces.length === 0) return null;
    const { facts } = look;
    return {
      rounds: matchRounds(
        interfaces,
        facts.features.filter((f): f is Round => f.kind !== 'plane'),
      ),
      planes: planes[k] ?? facts.features.filter(f => f.kind === 'plane'),
      largest: largestCoordinate(facts),
    };
  });
  const rounds = ({ partIndex, index }: InterfaceAt): readonly Round[] =>
    found[partIndex]?.rounds.get(index)?.got ?? [];
  // Looked for once: there may be hundreds of planes, and their pairs.
  const known = new Map<string, Flat | null>();
  const flat = ({ partIndex, index, face }: InterfaceAt): Flat | null => {
    const part = found[partIndex];
    if (part === null) return null;
    const key = `${partIndex} ${index}`;
    const meant =
      known.get(key) ??
      (face.kind === 'face'
        ? meantPlane(face, part.planes)
        : (meantPair(face, part.planes, part.largest)?.flat ?? null));
    known.set(key, meant);
    return meant;
  };
  const copies = ({ partIndex }: InterfaceAt) => placed.filter(({ index }) => index === partIndex);
  return {
    rounds,
    flat,
    axes: at =>
      copies(at).flatMap(instance =>
        rounds(at).map(round => ({ instance, feature: axisOf(round, instance.motion) })),
      ),
    flats: at => {
      const meant = flat(at);
      return meant === null
        ? []
        : copies(at).map(instance => ({ instance, feature: placedFlat(meant, instance.motion) }));
    },
  };
}
