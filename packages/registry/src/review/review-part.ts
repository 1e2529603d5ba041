import { judgeInterchange, reason } from '@kinprint/fit';
import type { RegistryDocument } from '@kinprint/manifest';
import type { PartFacts } from '../check/facts.ts';
import { reviewInterfaces } from './interface-reviews.ts';
import type { PairedPart, PairMeans, SidePart } from './pair-parts.ts';
import { partReasons } from './part-reasons.ts';
import { sideFacts } from './side-facts.ts';
import type { PartMesh, PartReview } from './types.ts';

/** The registry's documents on both sides, for the densities of materials. */
export interface Registries {
  readonly before: RegistryDocument | null;
  readonly after: RegistryDocument | null;
}

/** What became of a part, and whether old and new swap. */
export async function reviewPart(
  pair: PairedPart,
  registries: Registries,
  means: PairMeans,
): Promise<PartReview> {
  const { before, after, pairing, verdict, comparison, problem } = pair;
  const facts = { before: await sideFacts(before, means), after: await sideFacts(after, means) };
  const mass_g = {
    before: massOf(before, facts.before?.facts ?? null, registries.before),
    after: massOf(after, facts.after?.facts ?? null, registries.after),
  };
  const both = before !== null && after !== null;
  const { interfaces, reasons } = both ? reviewInterfaces(pair, facts) : { interfaces: [], reasons: [] };
  const reshaped = verdict === 'reworked' || verdict === 'replaced';
  const silent = both && reshaped && interfaces.length === 0;
  return {
    id: (after ?? before)?.part.id ?? '',
    title: (after ?? before)?.part.title ?? null,
    was: before?.part.id ?? null,
    pairing,
    verdict,
    comparison,
    problem,
    mesh: { before: await meshOf(before), after: await meshOf(after) },
    mass_g,
    interfaces,
    interchange: judgeInterchange([
      ...partReasons(pair, mass_g),
      ...reasons,
      ...(silent
        ? [reason('nothing-declared', 'The part declares no interface, so what it must fit is not known.')]
        : []),
    ]),
  };
}

async function meshOf(side: SidePart | null): Promise<PartMesh | null> {
  if (side === null) return null;
  const { content, part, ref, unit } = side;
  const sha256 = ref?.problem === null ? await content.files.sha256(ref) : null;
  return { path: `${content.folder}/${part.mesh}`, unit, sha256 };
}

function massOf(
  side: SidePart | null,
  facts: PartFacts | null,
  registry: RegistryDocument | null,
): number | null {
  const material = side?.part.material;
  const density = registry?.materials?.find(({ id }) => id === material)?.density_g_cm3;
  const volume = facts?.volume_mm3 ?? null;
  return density === undefined || volume === null ? null : (density * volume) / 1000;
}
