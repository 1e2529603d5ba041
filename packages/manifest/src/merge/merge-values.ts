import { canonicalJson } from '../digest/canonical-json.ts';

/** Which of three values to take where two sides changed the same one differently. */
export type MergePick = 'base' | 'a' | 'b';

/** A place of a document that two sides changed, each in its own way. `undefined` for what is not there. */
export interface MergeClash {
  /** Names and ids on the way to it, joined by slashes: `parts/shell/print/layer_height_mm`. */
  readonly key: string;
  readonly base: unknown;
  readonly a: unknown;
  readonly b: unknown;
}

/**
 * Merges two changed values with the one they came from. What one side changed is taken; what both changed alike is
 * taken once; a clash is handed to `settle`, and while that says null the base's value stands in.
 *
 * Records are merged key by key. Lists whose items have an `id`, a `name` or a `part` of their own are merged item by
 * item, whatever their order; lists of texts as sets. Every other list, such as a vector, is one value.
 *
 * @param key where the value stands
 * @returns undefined for what is not there in the end
 */
export function mergeValues(
  values: Omit<MergeClash, 'key'>,
  key: string,
  settle: (clash: MergeClash) => MergePick | null,
): unknown {
  const { base, a, b } = values;
  if (same(a, b) || same(b, base)) return a;
  if (same(a, base)) return b;
  const present = [base, a, b].filter(value => value !== undefined);
  if (a !== undefined && b !== undefined) {
    if (present.every(isRecord)) return mergeRecords(values, key, settle);
    if (present.every(Array.isArray)) {
      const lists = present as readonly (readonly unknown[])[];
      if (lists.every(list => list.every(item => typeof item === 'string')))
        return mergeSets(values as Sides<readonly string[] | undefined>);
      const name = keyName(lists);
      if (name !== null) {
        const asRecord = (value: unknown) =>
          Object.fromEntries(
            ((value ?? []) as readonly Record<string, unknown>[]).map(item => [item[name] as string, item]),
          );
        const merged = mergeRecords({ base: asRecord(base), a: asRecord(a), b: asRecord(b) }, key, settle);
        return Object.values(merged);
      }
    }
  }
  return values[settle({ key, ...values }) ?? 'base'];
}

type Sides<T> = Readonly<Record<MergePick, T>>;

function mergeRecords(
  { base, a, b }: Omit<MergeClash, 'key'>,
  key: string,
  settle: (clash: MergeClash) => MergePick | null,
): Record<string, unknown> {
  const sides = [base ?? {}, a, b] as readonly Record<string, unknown>[];
  const names = [...new Set(sides.flatMap(side => Object.keys(side)))];
  const of = (side: Record<string, unknown>, name: string): unknown =>
    Object.hasOwn(side, name) ? side[name] : undefined;
  const entries = names.map(name => {
    const [was, first, second] = sides.map(side => of(side, name));
    const below = key === '' ? name : `${key}/${name}`;
    return [name, mergeValues({ base: was, a: first, b: second }, below, settle)] as const;
  });
  // Not by assignment: a stranger's document may name a key `__proto__`.
  return Object.fromEntries(entries.filter(([, value]) => value !== undefined));
}

/** What either side added is in, what either side took out is not. */
function mergeSets({ base, a, b }: Sides<readonly string[] | undefined>): readonly string[] {
  const [was, first, second] = [base ?? [], a ?? [], b ?? []];
  const gone = was.filter(text => !first.includes(text) || !second.includes(text));
  return [...new Set([...was, ...first, ...second])].filter(text => !gone.includes(text));
}

/** The key that tells the items of all lists apart; null when there is none. */
function keyName(lists: readonly (readonly unknown[])[]): string | null {
  const tells = (name: string) =>
    lists.every(list => {
      const values = list.map(item => (isRecord(item) ? item[name] : undefined));
      return values.every(value => typeof value === 'string') && new Set(values).size === list.length;
    });
  return ['id', 'name', 'part'].find(tells) ?? null;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function same(p: unknown, q: unknown): boolean {
  if (p === undefined || q === undefined) return p === q;
  return canonicalJson(p) === canonicalJson(q);
}
