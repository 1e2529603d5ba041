import { escapeMarkup } from '../lineage/xml.ts';
import type { CreditEntry, Credits } from '@kinprint/license';
import { list, madeFrom, phrasesOf } from './phrases.ts';
import { webAddress } from './web-address.ts';

/** Markdown (CommonMark): a list item for every work. What people wrote cannot become markup. */
export function creditsMarkdown(credits: Credits): string {
  const lines = [`# Credits`, '', markdownItem(credits.work)];
  if (credits.from.length > 0) lines.push('', madeFrom, '', ...credits.from.map(markdownItem));
  if (credits.unknown.length > 0)
    lines.push('', `Also from works that are not at hand: ${escaped(list(credits.unknown))}.`);
  return `${lines.join('\n')}\n`;
}

function markdownItem(entry: CreditEntry): string {
  const { title, by, changes, license } = phrasesOf(entry);
  const name =
    webAddress(entry.url) === null
      ? `**${escaped(title)}**`
      : `**[${escaped(title)}](<${webAddress(entry.url) ?? ''}>)**`;
  const licenses =
    entry.licenses.length === 0
      ? license
      : list(
          entry.licenses.map(({ name: id, url }) =>
            url === null ? escaped(id) : `[${escaped(id)}](<${url}>)`,
          ),
        );
  return [
    `- ${name} (${escaped(entry.id)}) ${escaped(by)}, ${licenses}`,
    ...changes.map(change => `  - ${escaped(change)}`),
  ].join('\n');
}

/** Signs that may begin markup in CommonMark, with a backslash before each; line ends become blanks. */
function escaped(text: string): string {
  return text
    .replace(/\s+/g, ' ')
    .replace(/[\\`*_{}[\]<>()#+!|~&$=-]/g, sign => (sign === '-' ? '-' : `\\${sign}`));
}

/** An HTML fragment: one section, no style, no script. */
export function creditsHtml(credits: Credits): string {
  const items = (entries: readonly CreditEntry[]): string[] => ['<ul>', ...entries.map(htmlItem), '</ul>'];
  const lines = ['<section>', '<h2>Credits</h2>', ...items([credits.work])];
  if (credits.from.length > 0) lines.push(`<p>${escapeMarkup(madeFrom)}</p>`, ...items(credits.from));
  if (credits.unknown.length > 0)
    lines.push(`<p>Also from works that are not at hand: ${escapeMarkup(list(credits.unknown))}.</p>`);
  return `${[...lines, '</section>'].join('\n')}\n`;
}

function htmlItem(entry: CreditEntry): string {
  const { title, by, changes, license } = phrasesOf(entry);
  const name = anchor(title, entry.url, '');
  const licenses =
    entry.licenses.length === 0
      ? escapeMarkup(license)
      : list(entry.licenses.map(({ name: id, url }) => anchor(id, url, ' rel="license"')));
  const said = changes.map(change => `<br>${escapeMarkup(change)}`).join('');
  return `<li><cite>${name}</cite> (${escapeMarkup(entry.id)}) ${escapeMarkup(by)}, ${licenses}${said}</li>`;
}

function anchor(text: string, url: string | null, more: string): string {
  const address = webAddress(url);
  return address === null
    ? escapeMarkup(text)
    : `<a${more} href="${escapeMarkup(address)}">${escapeMarkup(text)}</a>`;
}
