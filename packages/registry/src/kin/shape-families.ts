import { kinDefaults } from './kin-defaults.ts';
import type { KinRelation, Kinship } from './verify-kin.ts';

/** How two shapes are related, compared with each other or told from others. */
export interface Related {
  /** `same-shape` also for one that stands elsewhere. */
  readonly relation: Exclude<KinRelation, 'moved'>;
  readonly mirrored: boolean;
  /** Size of the other, with the one asked about as 1; 1 exactly when nothing was scaled. */
  readonly scale: number;
  /** Share of either surface that coincides, 0…1; 1 for the same shape. */
  readonly shared: number;
}

/**
 * What comparisons have told of many shapes, numbered from 0. Those that are the same after moving, mirroring or scaling
 * are a family: two of a family need no comparison, and what was found between two families holds for all of both.
 */
export interface ShapeFamilies {
  /** @param kinship of the two shapes; null where they are not related */
  add(query: number, candidate: number, kinship: Kinship | null): void;
  /** null for shapes that are not related, undefined where nothing was told. */
  between(query: number, candidate: number): Related | null | undefined;
  /** The shape that stands for its family, and for no other. */
  family(shape: number): number;
  /** All shapes that a shape is known to be related to, itself left out; its own family first. */
  relatives(shape: number): readonly (readonly [number, Related])[];
}

/** What stands for a shape's family. */
interface Up {
  readonly parent: number;
  /** Size of the parent with this shape as 1. */
  readonly scale: number;
  readonly mirrored: boolean;
}

export function shapeFamilies(count: number): ShapeFamilies {
  const ups = Array.from({ length: count }, (_, parent): Up => ({ parent, scale: 1, mirrored: false }));
  const members = Array.from({ length: count }, (_, shape) => [shape]);
  /** What was found between shapes of different families, by family on either side. */
  const others = new Map<number, Map<number, Found>>();

  interface Found {
    readonly query: number;
    readonly candidate: number;
    readonly kinship: Kinship | null;
  }

  const top = (shape: number): Up => ups[shape];

  function keep(found: Found): void {
    const [a, b] = [top(found.query).parent, top(found.candidate).parent];
    for (const [one, other] of [
      [a, b],
      [b, a],
    ]) {
      const known = others.get(one) ?? new Map<number, Found>();
      others.set(one, known);
      const before = known.get(other);
      // That some relation was found outweighs that none was.
      if (before === undefined || before.kinship === null) known.set(other, found);
    }
  }

  /** The smaller family goes over to the larger one. */
  function join(
    query: number,
    candidate: number,
    { scale, mirrored }: Pick<Kinship, 'scale' | 'mirrored'>,
  ): void {
    const [a, b] = [top(query), top(candidate)];
    if (a.parent === b.parent) return;
    if (members[a.parent].length > members[b.parent].length) {
      join(candidate, query, { scale: 1 / scale, mirrored });
      return;
    }
    const between = (b.scale * scale) / a.scale;
    const turned = (a.mirrored !== b.mirrored) !== mirrored;
    for (const member of members[a.parent])
      ups[member] = {
        parent: b.parent,
        scale: ups[member].scale * between,
        mirrored: ups[member].mirrored !== turned,
      };
    const gone = others.get(a.parent);
    members[b.parent].push(...members[a.parent]);
    members[a.parent] = [];
    others.delete(a.parent);
    for (const [other, found] of gone ?? []) {
      others.get(other)?.delete(a.parent);
      if (other !== b.parent) keep(found);
    }
  }

  function through(
    query: number,
    candidate: number,
    scale: number,
    mirrored: boolean,
  ): Omit<Related, 'relation'> {
    const [a, b] = [top(query), top(candidate)];
    const factor = (a.scale * scale) / b.scale;
    return {
      scale: Math.abs(Math.log(factor)) > kinDefaults.scaledFrom ? factor : 1,
      mirrored: (a.mirrored !== b.mirrored) !== mirrored,
      shared: 1,
    };
  }

  function within(query: number, candidate: number): Related {
    const made = through(query, candidate, 1, false);
    return { ...made, relation: made.scale !== 1 ? 'rescaled' : made.mirrored ? 'mirrored' : 'same-shape' };
  }

  /** What was found between two shapes of their families, told of these two. */
  function across(query: number, candidate: number, found: Found): Related | null {
    const { kinship } = found;
    if (kinship === null) return null;
    const turned = top(found.query).parent !== top(query).parent;
    const [from, to] = [top(found.query), top(found.candidate)];
    // Between those that stand for the families, from that of the first compared to that of the second.
    const scale = (kinship.scale / from.scale) * to.scale;
    const mirrored = (from.mirrored !== to.mirrored) !== kinship.mirrored;
    return {
      ...through(query, candidate, turned ? 1 / scale : scale, mirrored),
      relation: 'reworked',
      shared: Math.min(kinship.matched_query, kinship.matched_candidate),
    };
  }

  return {
    add(query, candidate, kinship) {
      if (query === candidate) return;
      if (kinship === null || kinship.relation === 'reworked') keep({ query, candidate, kinship });
      else join(query, candidate, kinship);
    },
    between(query, candidate) {
      const [a, b] = [top(query).parent, top(candidate).parent];
      if (a === b) return within(query, candidate);
      const found = others.get(a)?.get(b);
      return found === undefined ? undefined : across(query, candidate, found);
    },
    family: shape => top(shape).parent,
    relatives(shape) {
      const own = top(shape).parent;
      const told = members[own]
        .filter(other => other !== shape)
        .map(other => [other, within(shape, other)] as const);
      const more = [...(others.get(own) ?? [])].flatMap(([family, found]) =>
        members[family].flatMap(other => {
          const related = across(shape, other, found);
          return related === null ? [] : [[other, related] as const];
        }),
      );
      return [...told, ...more];
    },
  };
}
