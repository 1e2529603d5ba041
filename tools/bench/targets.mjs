// The speeds and sizes that kinprint sets itself, each judged on the numbers of this very run.

/** @returns a list of `{target, got, met}`; `met` is null where this run cannot tell. */
export function judge(results, startup) {
  const at = (title, size, engine) =>
    results.find(r => r.title === title && r.size === size && r.engine === engine && r.failed === undefined);
  const peersOf = (title, size) =>
    results.filter(r => r.title === title && r.size === size && r.role === 'peer' && r.failed === undefined);
  const fastest = (title, size) => Math.min(...peersOf(title, size).map(r => r.seconds));
  const verdicts = [];
  const add = (target, got, limit) => {
    const known = Number.isFinite(got);
    verdicts.push({ target, got: known ? got : null, limit, met: known ? got <= limit : null });
  };
  for (const size of ['200k', '2m']) {
    const measure = 'load, weld, measure';
    const ours = at(measure, size, 'kinprint')?.seconds;
    if (ours === undefined) continue;
    add(`${size}: load, weld, measure / fastest peer below 1`, ours / fastest(measure, size), 1);
    add(
      `${size}: load, weld, measure / reading floor at most 4`,
      ours / (at(measure, size, 'floor')?.seconds ?? NaN),
      4,
    );
    const loop = ours / (at(measure, size, 'fast loop')?.seconds ?? NaN);
    if (Number.isFinite(loop))
      verdicts.push({
        target: `${size}: load, weld, measure / fastest reading loop, no target`,
        got: loop,
        limit: null,
        met: null,
      });
  }
  for (const title of ['deviation, all facets differ', 'deviation, local edit']) {
    for (const size of ['200k', '2m']) {
      const ours = at(title, size, 'kinprint')?.seconds;
      if (ours !== undefined)
        add(
          `${size}: bounded ${title} / fastest vertex-sampling peer below 1`,
          ours / fastest(title, size),
          1,
        );
    }
  }
  for (const title of ['comparison, local edit', 'comparison, all facets differ']) {
    const ours = at(title, '200k', 'kinprint')?.seconds;
    if (ours !== undefined)
      add(`200k: whole ${title} / bare booleans at most 1.3`, ours / fastest(title, '200k'), 1.3);
  }
  for (const result of results) {
    if (result.size === '2m' && result.engine === 'kinprint' && result.failed === undefined) {
      add(`2m: peak memory of '${result.title}' / files read below 8`, result.peak / result.bytes, 8);
    }
  }
  if (startup !== null) add('kinprint --version / empty Node at most 2', startup.version / startup.empty, 2);
  return verdicts;
}
