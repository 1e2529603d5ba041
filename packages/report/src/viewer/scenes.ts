import type { Vec3 } from '@kinprint/mesh';
import { type BufferGeometry, LineSegments, type Material, Mesh as Solid, Scene } from 'three';
import { added, clay, removed, rgb } from '../pictures/colors.ts';
import { ink } from '../lineage/palette.ts';
import { roundLimit } from '../pictures/deviation-map.ts';
import { coincidentFaces } from './coincident.ts';
import { deviationsAt } from './deviation-at.ts';
import { lineGeometry, sharpEdges, soupOf, surfaceGeometry } from './geometry.ts';
import type { Part, Shape } from './load.ts';
import { lineMaterial, sharedUniforms, surfaceMaterial, type Shared, type SurfaceLook } from './materials.ts';
import type { Scenery } from './modes.ts';
import type { Side } from '../review-page/part-data.ts';
import { edgeFor, longestEdge, refined } from './refine.ts';

/** The scenes of a part, each made when it is first shown. */
export interface Scenes {
  readonly shared: Shared;
  scene(scenery: Exclude<Scenery, 'deviation'>): Scene;
  /** @param pause called again and again while distances are found */
  deviation(pause: () => Promise<void>): Promise<DeviationScene>;
  dispose(): void;
}

export interface DeviationScene {
  readonly scene: Scene;
  readonly limit_mm: number;
  /** Distances are exact at points not farther apart than this along any edge. */
  readonly spacing_mm: number;
}

/** Distances are found at points this far apart, as a share of the part's size. */
const spacing = 1 / 200;
/** Faces that are wished for; parts with much surface have points farther apart. */
const faces = 160_000;

const inkColor = rgb(ink.full);

export function scenesOf(part: Part): Scenes {
  const { data, regions } = part;
  const center = part.center_mm;
  const shared = sharedUniforms();
  const made: (BufferGeometry | Material)[] = [];
  const scenes = new Map<Scenery, Scene>();
  const surfaces = new Map<Shape, BufferGeometry>();
  const edges = new Map<Shape, BufferGeometry>();
  let found: Promise<DeviationScene> | null = null;

  const keep = <T extends BufferGeometry | Material>(one: T): T => {
    made.push(one);
    return one;
  };
  const kept = (
    map: Map<Shape, BufferGeometry>,
    shape: Shape,
    make: () => BufferGeometry,
  ): BufferGeometry => {
    const known = map.get(shape);
    if (known !== undefined) return known;
    const geometry = keep(make());
    map.set(shape, geometry);
    return geometry;
  };
  const surfaceFor = (shape: Shape): BufferGeometry =>
    kept(surfaces, shape, () => surfaceGeometry(soupOf(shape.surface(), originOf(shape))));
  const edgesFor = (shape: Shape): BufferGeometry =>
    kept(edges, shape, () => lineGeometry(sharpEdges(shape.surface(), originOf(shape))));
  /** Sides that stand for themselves are drawn about their own middle. */
  const originOf = (shape: Shape): Vec3 => (data.apart ? shape.center_mm : center);

  const solid = (geometry: BufferGeometry, look: SurfaceLook): Solid =>
    new Solid(geometry, keep(surfaceMaterial(shared, look)));
  const lines = (shape: Shape, color: typeof inkColor, opacity: number, dashed = false): LineSegments =>
    new LineSegments(edgesFor(shape), keep(lineMaterial(shared, color, opacity, dashed)));
  const sideOf = (side: Side): Shape => {
    const shape = part.sides.get(side);
    if (shape === undefined) throw new Error(`The part has no side ${side}.`);
    return shape;
  };

  /** The faces of the changed pieces that lie on a state and not on the other. */
  function marks(side: Side): Solid[] {
    if (part.sides.size < 2) return [];
    const other = sideOf(side === 'before' ? 'after' : 'before').tree();
    return regions.flatMap((region, k) => {
      const { kind } = data.regions[k];
      if (kind === 'added' && side === 'before') return [];
      const coincident = coincidentFaces(region.mesh, other, data.within_mm);
      const geometry = keep(surfaceGeometry(soupOf(region.surface(), center, coincident)));
      // Where material was cut off, the new surface is the inner side of what is gone.
      const flips = kind === 'removed' && side === 'after';
      return [solid(geometry, { color: kind === 'added' ? added : removed, signs: kind, flips, layer: 3 })];
    });
  }

  function build(scenery: Exclude<Scenery, 'deviation'>): Scene {
    const scene = new Scene();
    switch (scenery) {
      case 'before':
      case 'after': {
        const shape = sideOf(scenery);
        scene.add(
          solid(surfaceFor(shape), { color: clay, fills: data.closed[scenery] }),
          ...marks(scenery),
          lines(shape, inkColor, 0.8),
        );
        break;
      }
      case 'overlay': {
        const [before, after] = [sideOf('before'), sideOf('after')];
        scene.add(
          solid(surfaceFor(after), { color: clay, fills: data.closed.after }),
          lines(after, inkColor, 0.8),
          solid(surfaceFor(before), { color: removed, opacity: 0.42, layer: -3 }),
          lines(before, removed, 1, true),
        );
        break;
      }
      case 'material': {
        const after = sideOf('after');
        scene.add(solid(surfaceFor(after), { color: clay, opacity: 0.3 }), lines(after, inkColor, 0.35));
        regions.forEach((region, k) => {
          const { kind } = data.regions[k];
          const color = kind === 'added' ? added : removed;
          scene.add(
            solid(surfaceFor(region), { color, signs: kind, fills: true, layer: 2 }),
            lines(region, inkColor, 0.9),
          );
        });
      }
    }
    return scene;
  }

  async function findDeviation(pause: () => Promise<void>): Promise<DeviationScene> {
    const [before, after] = [sideOf('before'), sideOf('after')];
    const { areas } = after.surface();
    const edge_mm = Math.max(
      spacing * part.size_mm,
      edgeFor(
        areas.reduce((sum, each) => sum + each, 0),
        faces,
      ),
    );
    // Slivers take more halvings than their area says; what they may cost is bounded.
    const soup = refined(soupOf(after.surface(), center), edge_mm, 3 * faces + areas.length);
    const { values_mm, most_mm } = await deviationsAt(soup, center, before.tree(), data.within_mm, pause);
    const limit_mm = roundLimit(most_mm);
    const scene = new Scene();
    const geometry = keep(surfaceGeometry(soup, values_mm));
    scene.add(
      solid(geometry, { color: clay, fills: data.closed.after, limit_mm }),
      lines(after, inkColor, 0.5),
    );
    return { scene, limit_mm, spacing_mm: longestEdge(soup) };
  }

  return {
    shared,
    scene: scenery => {
      const known = scenes.get(scenery);
      if (known !== undefined) return known;
      const scene = build(scenery);
      scenes.set(scenery, scene);
      return scene;
    },
    deviation: pause => (found ??= findDeviation(pause)),
    dispose: () => {
      for (const one of made) one.dispose();
      made.length = 0;
    },
  };
}
