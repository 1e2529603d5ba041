/** Lets at most `limit` pieces of work run at a time, in the order they came. */
export function takeTurns(limit: number): <T>(work: () => Promise<T>) => Promise<T> {
  let running = 0;
  const waiting: (() => void)[] = [];
  return async work => {
    if (running >= limit) await new Promise<void>(resolve => waiting.push(resolve));
    else running++;
    try {
      return await work();
    } finally {
      const next = waiting.shift();
      if (next === undefined) running--;
      else next();
    }
  };
}
