/** Root of the set that `i` is in; `parent[i] === i` for a root. Shortens the paths it walks. */
export function rootOf(parent: Int32Array | Uint32Array, i: number): number {
  while (parent[i] !== i) {
    parent[i] = parent[parent[i]];
    i = parent[i];
  }
  return i;
}

/** Unites the sets of i and j; the smaller root stays, so that results do not depend on the order. */
export function unite(parent: Int32Array | Uint32Array, i: number, j: number): void {
  const a = rootOf(parent, i);
  const b = rootOf(parent, j);
  if (a < b) parent[b] = a;
  else parent[a] = b;
}

export function singletons(n: number): Int32Array {
  const parent = new Int32Array(n);
  for (let i = 0; i < n; i++) parent[i] = i;
  return parent;
}
