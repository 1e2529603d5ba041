/** The worker's file, built beside this one; null when running from sources, where there is none. */
export function builtWorker(): URL | null {
  return import.meta.url.endsWith('.ts') ? null : new URL('./worker.js', import.meta.url);
}
