const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
const works = new Set<() => void>();

/**
 * Does something when the process ends, also when a signal ends it. Signals are listened to only as long as there is
 * something to do, and no longer: while this thread computes, nobody listens, and the usual end must be the usual one.
 *
 * @param work must not wait, and not throw
 * @returns takes it back
 */
export function atExit(work: () => void): () => void {
  if (works.size === 0) {
    process.on('exit', doAll);
    for (const signal of signals) process.on(signal, ended);
  }
  works.add(work);
  return () => {
    works.delete(work);
    if (works.size === 0) silence();
  };
}

function doAll(): void {
  for (const work of works) work();
  works.clear();
}

function ended(signal: NodeJS.Signals): void {
  doAll();
  silence();
  // Nobody else listens: then the signal ends the process, and whoever waits for it sees which.
  if (process.listenerCount(signal) === 0) process.kill(process.pid, signal);
}

function silence(): void {
  process.off('exit', doAll);
  for (const signal of signals) process.off(signal, ended);
}
