import os from 'node:os';
import path from 'node:path';

/**
 * Where the cache lies: `$KINPRINT_CACHE`, else `kinprint` in `$XDG_CACHE_HOME`, else `~/.cache/kinprint`. Null when
 * `KINPRINT_CACHE` is `off`. Source: XDG Base Directory Specification 0.8, which has relative paths ignored.
 */
export function cacheFolder(
  environment: Readonly<Record<string, string | undefined>> = process.env,
  home: string = os.homedir(),
): string | null {
  const own = environment['KINPRINT_CACHE'] ?? '';
  if (own === 'off') return null;
  if (own !== '') return path.resolve(own);
  const caches = environment['XDG_CACHE_HOME'] ?? '';
  return path.join(path.isAbsolute(caches) ? caches : path.join(home, '.cache'), 'kinprint');
}
