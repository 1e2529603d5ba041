/** The hash of a style or script as a Content-Security-Policy names it (CSP Level 3, section 2.3.1). */
export async function policyHash(text: string): Promise<string> {
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)));
  return `'sha256-${btoa(String.fromCharCode(...hash))}'`;
}
