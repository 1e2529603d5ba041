import { InputError } from '@kinprint/mesh';
import { didYouMean, nearestNames } from '../git/nearest.ts';
import { noCache } from '../cache/cache.ts';
import type { RegistryState, VariantState } from '../state/types.ts';
import { takeTurns } from '../work/pool.ts';
import { filesText } from './cached-standing.ts';
import { checkVariant, saysShape } from './check-variant.ts';
import { comparePool, type ComparePool } from './compare-pool.ts';
import type { PartLook } from './facts.ts';
import { byWeight, countsOf, type Finding } from './finding.ts';
import type { CheckOptions, CheckReport } from './types.ts';
import { measureParts, unitOf, type MeshWanted } from './measure-parts.ts';
import { sameContentFindings } from './rules/same-content.ts';
import { wholeFindings } from './rules/whole.ts';
import { inShard } from './shard.ts';

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
  const looks = await measureParts(
    state.files,
    wanted.map(w => w.mesh),
    {
      cache,
      ...(options.progress === undefined ? {} : { progress: options.progress }),
      ...(options.worker === undefined ? {} : { worker: options.worker }),
    },
  );
  const lookAt = new Map<string, (PartLook | null)[]>();
  wanted.forEach(({ address, part }, k) => {
    const list = lookAt.get(address) ?? [];
    list[part] = looks[k];
    lookAt.set(address, list);
  });

  const findings: Finding[] = [];
  const pool = poolFor(chosen, options.worker);
  try {
    // Not all at once: each may hold a file or two of history open.
    const turns = takeTurns(variantsAtATime);
    const means = { ...options, cache, compare: pool.compare };
    const found = await Promise.all(
      chosen.map(variant =>
        turns(() => checkVariant(state, variant, lookAt.get(variant.address) ?? [], means)),
      ),
    );
    findings.push(...found.flat());
  } finally {
    await pool.close();
    cache.flush();
  }
  const contents = new Map<string, string>();
  if (whole) {
    for (const variant of state.variants.values()) {
      const content = await filesText(state, variant);
      if (content !== null && content !== '') contents.set(variant.address, content);
    }
    findings.push(...wholeFindings(state), ...sameContentFindings(state, contents));
  } else if (options.variants !== undefined) {
    const named = new Set(options.variants);
    findings.push(...wholeFindings(state).filter(f => f.variant !== null && named.has(f.variant)));
  }
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

/** For the comparisons that derivations ask for. */
function poolFor(variants: readonly VariantState[], worker: URL | null | undefined): ComparePool {
  const compared = variants.filter(({ document }) =>
    (document.value?.derivations ?? []).some(({ relation }) => saysShape(relation)),
  );
  const tasks = compared.reduce((sum, { document }) => sum + (document.value?.parts.length ?? 0), 0);
  const bytes = compared.flatMap(variant => variant.files).reduce((sum, { size }) => sum + (size ?? 0), 0);
  return comparePool(bytes, tasks, worker);
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
  readonly address: string;
  readonly part: number;
  readonly mesh: MeshWanted;
}

/** The meshes of a variant that are there. */
function meshesOf({ address, folder, files, document }: VariantState): Wanted[] {
  const refs = new Map(files.map(ref => [ref.path, ref]));
  return (document.value?.parts ?? []).flatMap((part, k) => {
    const ref = refs.get(`${folder}/${part.mesh}`);
    return ref === undefined ? [] : [{ address, part: k, mesh: { ref, unit: unitOf(part.unit) } }];
  });
}
