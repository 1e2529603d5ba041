import { expressionText, parseExpression, termsOf, type Expression, type Term } from '@kinprint/license';
import type { BillFile, BillRevision } from '@kinprint/registry';

/** What a manifest says of a license, as far as documents in SPDX 2.3 and CycloneDX can say it. */
export type StatedLicense =
  | { readonly kind: 'none' }
  /** No license expression of SPDX 2.3. */
  | { readonly kind: 'wrong'; readonly text: string }
  /** Ids as in the SPDX list; those out of use replaced where their meaning is known. */
  | { readonly kind: 'expression'; readonly text: string; readonly terms: readonly Term[] };

/** Several licenses that apply at once; worth no more than the least of them. */
export function statedLicense(texts: readonly (string | null)[]): StatedLicense {
  const members: Expression[] = [];
  const seen = new Set<string>();
  for (const text of texts) {
    if (text === null) return { kind: 'none' };
    const parsed = parseExpression(text, '3.0');
    if (!parsed.ok || termsOf(parsed.expression).some(foreign)) return { kind: 'wrong', text };
    const same = expressionText(parsed.expression);
    if (!seen.has(same)) members.push(parsed.expression);
    seen.add(same);
  }
  if (members.length === 0) return { kind: 'none' };
  const flat = members.flatMap(member => (member.kind === 'and' ? member.members : [member]));
  const expression: Expression = flat.length === 1 ? flat[0] : { kind: 'and', members: flat };
  return { kind: 'expression', text: expressionText(expression), terms: termsOf(expression) };
}

/** Defined in another document, or only in SPDX 3.0: it would lead nowhere. */
function foreign({ id, exception }: Term): boolean {
  return id.startsWith('DocumentRef-') || (exception ?? '').includes('Ref-');
}

/** Of a revision as a whole: the variant's license, and those of parts that have their own. */
export function wholeLicense({ license, parts }: BillRevision): StatedLicense {
  const own = parts.flatMap(part => (part.license === null ? [] : [part.license]));
  // Where each part has a license of its own, the whole is a collection and needs none.
  const collection = license === null && parts.length > 0 && own.length === parts.length;
  return statedLicense(collection ? own : [license, ...own]);
}

/** Of one file: that of the parts that it belongs to, else the variant's. */
export function fileLicense(revision: BillRevision, file: BillFile): StatedLicense {
  const own = revision.parts.filter(part => file.parts.includes(part.id));
  return statedLicense(
    own.length === 0 ? [revision.license] : own.map(part => part.license ?? revision.license),
  );
}
