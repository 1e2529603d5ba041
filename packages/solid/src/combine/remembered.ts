/** The same function, each value made once. */
export function remembered<K, V>(make: (key: K) => V): (key: K) => V {
  const known = new Map<K, V>();
  return key => {
    const value = known.get(key) ?? make(key);
    known.set(key, value);
    return value;
  };
}
