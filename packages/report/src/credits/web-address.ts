/** An address that may become a link: only of the web, as one that somebody wrote may hold a script; else null. */
export function webAddress(url: string | null): string | null {
  if (url === null || !URL.canParse(url)) return null;
  const { protocol, href } = new URL(url);
  return protocol === 'https:' || protocol === 'http:' ? href.replace(/[<>]/g, '') : null;
}
