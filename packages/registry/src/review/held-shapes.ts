import type { Comparison } from '@kinprint/compare';
import { registryDefaults } from '../defaults.ts';
import { openSpool, type Spooled } from '../work/spool.ts';
import type { PairComparison } from '../work/task.ts';

type Shapes = NonNullable<PairComparison['shapes']>;

/** The solids of comparisons, held from when they are compared to when they are drawn, so that nothing is compared twice. */
export interface HeldShapes {
  keep(comparison: Comparison, shapes: Shapes | null): Promise<void>;
  /** Gives them away; null where they were not kept, as with a comparison that a cache had. */
  take(comparison: Comparison): Promise<Shapes | null>;
  close(): Promise<void>;
}

export function holdShapes(memory_bytes: number = registryDefaults.heldShapesBytes): HeldShapes {
  const spool = openSpool<Shapes>(memory_bytes);
  const held = new Map<Comparison, Spooled<Shapes>>();
  return {
    async keep(comparison, shapes) {
      if (shapes !== null) held.set(comparison, await spool.put(shapes));
    },
    async take(comparison) {
      const found = held.get(comparison);
      if (found === undefined) return null;
      held.delete(comparison);
      const shapes = await found.get();
      await found.drop();
      return shapes;
    },
    close: () => spool.close(),
  };
}
