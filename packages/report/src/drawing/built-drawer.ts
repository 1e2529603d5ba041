/** The file of threads that draw, built beside this one; null when running from sources, where there is none. */
export function builtDrawer(): URL | null {
  return import.meta.url.endsWith('.ts') ? null : new URL('./drawer.js', import.meta.url);
}
