import { InputError } from '@kinprint/mesh';
import { didYouMean, nearestNames } from '../git/nearest.ts';
import { interferenceSearch } from '../assembly/interference-search.ts';
import { noCache } from '../cache/cache.ts';
import type { RegistryState, VariantState } from '../state/types.ts';
import { openPool, type WorkPool } from '../work/pool.ts';
import { mapAhead } from '../work/map-ahead.ts';
import { filesText } from './cached-standing.ts';
import { closerLook } from './closer-look.ts';
import { checkVariant, saysShape } from './check-variant.ts';
import type { PartLook } from './facts.ts';
import { byWeight, countsOf, type Finding } from './finding.ts';
import type { CheckOptions, CheckReport } from './types.ts';
import { planMeasuring, wantedMesh, type MeasurePlan, type MeshWanted } from './measure-parts.ts';
import { relatingWith } from '../work/relating.ts';
import { gapFindings } from './rules/gaps.ts';
import { sameContentFindings } from './rules/same-content.ts';
import { vettingFindings } from './rules/vetting.ts';
import { wholeFindings } from './rules/whole.ts';
import { inShard } from './shard.ts';
import { usableVariant } from './usable.ts';

/**
 * Checks a registry's state: all that can be told without a person. Reads only; what a stranger's files hold is a
 * finding.
 *
 * @throws InputError `variant-unknown` for a variant asked for that is not there
 */
export async function checkRegistry(state: RegistryState, options: CheckOptions = {}): Promise<CheckReport> {
  const { shard = null, cache = noCache() } = options;
  const chosen = chooseVariants(state, options);
  const whole = options.variants === undefined && (shard === null || shard.index === 1);

  const wanted = chosen.flatMap(meshesOf);
  const plan = await planMeasuring(
    state.files,
    wanted.map(w => w.mesh),
    { cache, ...(options.progress === undefined ? {} : { progress: options.progress }) },
  );
  const indices = new Map<VariantState, number[]>();
  wanted.forEach(({ variant }, k) => indices.set(variant, [...(indices.get(variant) ?? []), k]));

  const findings: Finding[] = [];
  const pool = poolFor(plan, chosen, options.worker);
  const search = interferenceSearch({
    cache,
    ...(options.worker === undefined ? {} : { worker: options.worker }),
  });
  const means = {
    ...options,
    cache,
    relating: relatingWith(pool),
    closer: closerLook(state.files, pool, cache),
    search,
  };
  const check = async (variant: VariantState): Promise<Finding[]> => {
    const looks: (PartLook | null)[] = [];
    const mine = indices.get(variant) ?? [];
    const found = await Promise.all(mine.map(async k => [wanted[k].part, await plan.look(k, pool)] as const));
    for (const [part, look] of found) looks[part] = look;
    return checkVariant(state, variant, looks, means);
  };
  try {
    // Not all at once: each may hold a file or two of history open.
    const found = await mapAhead(chosen, variantsAtATime, check);
    findings.push(...found.flat());
  } finally {
    await Promise.all([pool.close(), search.close()]);
    cache.flush();
  }
  const contents = new Map<string, string>();
  if (whole) {
    for (const variant of state.variants.values()) {
      const content = await filesText(state, variant);
      if (content !== null && content !== '') contents.set(variant.address, content);
    }
    findings.push(
      ...wholeFindings(state),
      ...(await vettingFindings(state)),
      ...sameContentFindings(state, contents),
    );
  } else if (options.variants !== undefined) {
    const named = new Set(options.variants);
    findings.push(
      ...wholeFindings(state).filter(f => f.variant !== null && named.has(f.variant)),
      ...(await vettingFindings(state, variant => variant !== null && named.has(variant))),
    );
  }
  if (whole || options.variants !== undefined) findings.push(...gapFindings(options.gaps ?? []));
  cache.flush();
  findings.sort(byWeight);
  return {
    state: state.files.name,
    commit: state.files.commit,
    shard,
    whole,
    variants: chosen.length,
    parts: chosen.reduce((sum, variant) => sum + (variant.document.value?.parts.length ?? 0), 0),
    counts: countsOf(findings),
    findings,
  };
}

const variantsAtATime = 16;

/** For the measurements, and for finding out whether derivations hold; threads start with the first task. */
function poolFor(
  { tasks, bytes }: MeasurePlan,
  variants: readonly VariantState[],
  worker: URL | null | undefined,
): WorkPool {
  const related = variants.filter(({ document }) =>
    (document.value?.derivations ?? []).some(({ relation }) => saysShape(relation)),
  );
  return openPool({
    tasks: related.reduce((sum, { document }) => sum + (document.value?.parts.length ?? 0), tasks),
    bytes: related.flatMap(variant => variant.files).reduce((sum, { size }) => sum + (size ?? 0), bytes),
    ...(worker === undefined ? {} : { worker }),
  });
}

function chooseVariants(state: RegistryState, { variants, shard }: CheckOptions): VariantState[] {
  const named = variants === undefined ? [...state.variants.keys()] : [...new Set(variants)];
  return named
    .map(address => {
      const variant = state.variants.get(address);
      if (variant !== undefined) return variant;
      throw new InputError(
        'variant-unknown',
        `There is no variant '${address}' in the registry.`,
        `${didYouMean(nearestNames(address, state.variants.keys()))}Name it as device/variant.`,
      );
    })
    .filter(variant => shard === undefined || inShard(variant.address, shard));
}

interface Wanted {
  readonly variant: VariantState;
  /** Its index among the parts. */
  readonly part: number;
  readonly mesh: MeshWanted;
}

/** The meshes of a variant that are there. */
function meshesOf(variant: VariantState): Wanted[] {
  const parts = usableVariant(variant)?.variant.document.value?.parts ?? [];
  return parts.flatMap((part, k) => {
    const mesh = wantedMesh(variant, part);
    return mesh === null ? [] : [{ variant, part: k, mesh }];
  });
}
