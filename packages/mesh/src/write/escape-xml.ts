const escapes: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  '\t': '&#9;',
  '\n': '&#10;',
  '\r': '&#13;',
};

/** Text for an attribute or element of XML 1.0; characters that XML cannot hold become U+FFFD. */
export function escapeXml(text: string): string {
  let escaped = '';
  for (const character of text) {
    const code = character.codePointAt(0) ?? 0;
    escaped += escapes[character] ?? (isAllowed(code) ? character : '\ufffd');
  }
  return escaped;
}

/** The production Char of XML 1.0, 2.2. */
function isAllowed(code: number): boolean {
  return code >= 0x20 && !(code >= 0xd800 && code <= 0xdfff) && code !== 0xfffe && code !== 0xffff;
}
