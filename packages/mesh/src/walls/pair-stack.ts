/** Pairs of nodes still to look at, each with the least distance that its faces can have. */
export interface PairStack {
  a: Int32Array;
  b: Int32Array;
  least: Float64Array;
  size: number;
}

export function pairStack(): PairStack {
  return { a: new Int32Array(1024), b: new Int32Array(1024), least: new Float64Array(1024), size: 0 };
}

/** Adds a pair to those from `base` on, so that the nearest of them is taken first. */
export function pushNearestLast(stack: PairStack, base: number, a: number, b: number, least: number): void {
  if (stack.size === stack.a.length) grow(stack);
  let at = stack.size++;
  for (; at > base && stack.least[at - 1] < least; at--) {
    stack.a[at] = stack.a[at - 1];
    stack.b[at] = stack.b[at - 1];
    stack.least[at] = stack.least[at - 1];
  }
  stack.a[at] = a;
  stack.b[at] = b;
  stack.least[at] = least;
}

function grow(stack: PairStack): void {
  const { a, b, least } = stack;
  stack.a = new Int32Array(2 * a.length);
  stack.b = new Int32Array(2 * a.length);
  stack.least = new Float64Array(2 * a.length);
  stack.a.set(a);
  stack.b.set(b);
  stack.least.set(least);
}
