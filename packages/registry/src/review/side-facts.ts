import type { Interface } from '@kinprint/manifest';
import { closerLook } from '../check/closer-look.ts';
import type { PartFacts } from '../check/facts.ts';
import { planMeasuring } from '../check/measure-parts.ts';
import { planesWanted } from '../check/rules/interfaces.ts';
import { judgeInterfaces } from '../check/rules/judge-interface.ts';
import type { Verdict } from '../check/rules/verdict.ts';
import type { PairMeans, SidePart } from './pair-parts.ts';

/** What was measured of a part on one side, and how its declared interfaces stand to it. */
export interface SideFacts {
  readonly facts: PartFacts;
  /** By the index of the interface. */
  readonly verdicts: readonly Verdict[];
}

/** Measures a part; null where there is no part or its mesh cannot be measured. */
export async function sideFacts(
  side: SidePart | null,
  { pool, cache }: PairMeans,
): Promise<SideFacts | null> {
  const ref = side?.ref ?? null;
  if (side === null || ref === null) return null;
  const mesh = { ref, unit: side.unit };
  const { files } = side.content;
  const plan = await planMeasuring(files, [mesh], { cache });
  const look = await plan.look(0, pool);
  if (look.state !== 'measured') return null;
  const near = planesWanted(side.part, look);
  const planes = near === null ? null : await closerLook(files, pool, cache).planes(mesh, near);
  const interfaces: readonly Interface[] = side.part.interfaces ?? [];
  return { facts: look.facts, verdicts: judgeInterfaces(interfaces, look.facts, planes) };
}
