/**
 * Works on some items at a time; the results come in the order of the items.
 *
 * @param width how many are begun before the first of them has ended
 * @throws the error of the first item in order that failed, once nothing is in work any more
 */
export async function mapAhead<T, R>(
  items: readonly T[],
  width: number,
  work: (item: T) => Promise<R>,
): Promise<R[]> {
  const results: R[] = [];
  const failed: { readonly at: number; readonly error: unknown }[] = [];
  let next = 0;
  const take = async (): Promise<void> => {
    while (next < items.length && failed.length === 0) {
      const at = next++;
      try {
        results[at] = await work(items[at]);
      } catch (error) {
        failed.push({ at, error });
      }
    }
  };
  await Promise.all(Array.from({ length: Math.min(width, items.length) }, take));
  failed.sort((a, b) => a.at - b.at);
  if (failed.length > 0) throw failed[0].error;
  return results;
}
