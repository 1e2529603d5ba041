import path from 'node:path';
import { InputError } from '@kinprint/mesh';

/** Where a source's repository is, and the one way it may be reached. */
export interface SourceAddress {
  /** As git takes it. */
  readonly url: string;
  /** The only protocol that the fetch may use. */
  readonly protocol: 'https' | 'ssh' | 'file';
}

/**
 * Reads the address of a source: `https://…`, `ssh://…`, `user@host:path`, `file:///…` or a path, which counts from
 * the registry's folder. Everything else is refused: registry.yaml may come from a stranger, and some of git's
 * addresses run programs.
 *
 * @throws InputError `source-address`
 */
export function sourceAddress(text: string, root: string, name: string): SourceAddress {
  const refuse = (what: string): InputError =>
    new InputError(
      'source-address',
      `The address of the source '${name}' cannot be used: ${what}`,
      'Write https://HOST/PATH, ssh://HOST/PATH, or a path.',
      { file: path.join(root, 'registry.yaml') },
    );
  if (text.startsWith('-')) throw refuse('it begins with a dash.');
  if (/[\u0000-\u001f\u007f]/.test(text)) throw refuse('it holds control characters.');
  const scheme = /^([a-z][a-z0-9+.-]*):\/\//i.exec(text)?.[1]?.toLowerCase();
  if (scheme !== undefined) {
    if (scheme !== 'https' && scheme !== 'ssh' && scheme !== 'file')
      throw refuse(`${scheme}:// is not among the ways that sources are fetched.`);
    if (scheme !== 'file' && /^[a-z]+:\/\/(?:[^/@]*@)?-/i.test(text))
      throw refuse('its host begins with a dash.');
    if (/^https:\/\/[^/@]*:[^/@]*@/i.test(text))
      throw refuse('it holds a password, which would be in the history.');
    // git knows its protocols in small letters only.
    return { url: scheme + text.slice(scheme.length), protocol: scheme };
  }
  if (/^[a-z0-9+.-]*::/i.test(text)) throw refuse('it names a program.');
  const shell = /^(?:([A-Za-z0-9._-]+)@)?([A-Za-z0-9._-]+):(?!\/\/)(.+)$/.exec(text);
  // A letter and a colon is a drive; a slash before the colon makes it a path, as git has it.
  if (shell !== null && !/^[A-Za-z]:[\\/]/.test(text)) {
    if (shell[2].startsWith('-') || shell[1]?.startsWith('-') === true)
      throw refuse('its host begins with a dash.');
    return { url: text, protocol: 'ssh' };
  }
  return { url: path.resolve(root, text), protocol: 'file' };
}
