import type { Reason } from '@kinprint/fit';
import type { VariantDocument } from '@kinprint/manifest';
import { listing } from '../check/words.ts';
import { registryFile } from '../state/registry-files.ts';
import type { RegistryState } from '../state/types.ts';
import type { ReviewedVariant } from './review-variant.ts';
import { reviewCodes, type ReviewCode } from './codes.ts';
import type { FileChange, PartReview, ReviewFinding, VariantReview } from './types.ts';

interface About {
  readonly variant?: string | null;
  readonly part?: string | null;
  readonly file?: string | null;
  readonly line?: number | null;
  readonly column?: number | null;
}

function made(code: ReviewCode, text: string, remedy: string, about: About = {}): ReviewFinding {
  const base = { variant: null, part: null, file: null, line: null, column: null };
  return {
    origin: 'review',
    code,
    severity: reviewCodes[code],
    blocks: false,
    text,
    remedy,
    ...base,
    ...about,
  };
}

/** What the review itself has to say of a variant. */
export function variantFindings(
  { review: variant, manifests }: ReviewedVariant,
  before: RegistryState,
  after: RegistryState,
): ReviewFinding[] {
  const { address, change } = variant;
  if (change === 'removed')
    return [
      made(
        'variant-removed',
        `${address} is taken away${variant.descendants.length === 0 ? '' : `, and ${listing(variant.descendants)} came from it`}.`,
        'Keep it, and say in its cautions that it is not to be made any more: what was made of it must stay explained.',
        { variant: address, file: before.variants.get(address)?.document.file ?? null },
      ),
    ];
  const findings = variant.parts.flatMap(part => uncompared(part, variant, after));
  if (change === 'changed') {
    findings.push(...interchangeFindings(variant, after));
    findings.push(...creditFindings(variant, manifests, before, after));
  }
  findings.push(
    ...variant.signoffs
      .filter(({ state }) => state === 'lapses')
      .map(({ role, by, date, file }) =>
        made(
          'sign-off-lapses',
          `The sign-off of ${by} (${role}, ${date}) is for what ${address} was, and says nothing of what it is now.`,
          'Have it looked at again before it is lent or given away.',
          { variant: address, file },
        ),
      ),
    // A record that nobody can read lapses as well, and nobody would miss it.
    ...(variant.digest.before === variant.digest.after ? [] : variant.vetting_unread).map(file =>
      made(
        'vetting-unread',
        'This record of vetting cannot be read, so nobody knows whether it stood on what is changed.',
        'Mend it as kinprint check says, and review again.',
        { variant: address, file },
      ),
    ),
  );
  return findings;
}

function uncompared(part: PartReview, { address }: VariantReview, after: RegistryState): ReviewFinding[] {
  if (part.verdict !== 'unreadable' && part.verdict !== 'failed' && part.verdict !== 'unsound') return [];
  const { problem } = part;
  return [
    made(
      'part-not-compared',
      problem?.text ?? 'A mesh has no volume, so what material changed cannot be told.',
      problem?.remedy ?? 'Mend the mesh; kinprint check tells where it is open.',
      placed(after, address, part.id),
    ),
  ];
}

/** The trade's rule: one address, one interchangeable thing. */
function interchangeFindings(variant: VariantReview, after: RegistryState): ReviewFinding[] {
  const { address, interchange, parts, hardware } = variant;
  const findings: ReviewFinding[] = [];
  for (const part of parts) {
    const breaking = part.interchange.reasons.filter(({ weight }) => weight === 'breaks');
    const asking = part.interchange.reasons.filter(({ weight }) => weight === 'ask');
    if (breaking.length > 0)
      findings.push(
        made(
          'not-interchangeable',
          `Old and new do not swap: ${sentences(breaking)}`,
          'Bring it back to what it was, or derive a variant of its own for it, so that one address stays one interchangeable thing.',
          placed(after, address, part.id),
        ),
      );
    else if (asking.length > 0)
      findings.push(
        made(
          'interchange-undecided',
          `Whether old and new swap must be said by a person: ${sentences(asking)}`,
          'Look at it, try old and new parts together, and record what was tried.',
          placed(after, address, part.id),
        ),
      );
  }
  const own = interchange.reasons.filter(({ code }) => code.startsWith('hardware-'));
  const together = interchange.reasons.filter(({ code }) => !code.startsWith('hardware-'));
  if (together.length > 0)
    findings.push(
      made(
        'not-interchangeable',
        `Put together, old and new do not swap: ${sentences(together)}`,
        'Bring it back to what it was, or derive a variant of its own for it.',
        placed(after, address, null),
      ),
    );
  if (hardware.length > 0 && own.length > 0) {
    const breaks = own.some(({ weight }) => weight === 'breaks');
    findings.push(
      made(
        breaks ? 'not-interchangeable' : 'interchange-undecided',
        `What must be bought changed: ${sentences(own)}`,
        breaks
          ? 'Keep what is bought, or derive a variant of its own.'
          : 'Say in the submission why, and whether what was bought before still serves.',
        placed(after, address, null),
      ),
    );
  }
  return findings;
}

function sentences(reasons: readonly Reason[]): string {
  const shown = reasons.slice(0, 4).map(({ text }) => text);
  return reasons.length > 4 ? `${shown.join(' ')} And ${reasons.length - 4} more.` : shown.join(' ');
}

/** Who is no longer named, and what license holds. */
function creditFindings(
  { address }: VariantReview,
  { before: was, after: is }: ReviewedVariant['manifests'],
  before: RegistryState,
  after: RegistryState,
): ReviewFinding[] {
  if (was === null || is === null) return [];
  const names = new Set((is.authors ?? []).map(({ name }) => name));
  const dropped = (was.authors ?? []).map(({ name }) => name).filter(name => !names.has(name));
  const [old, now] = [licenseOf(was, before), licenseOf(is, after)];
  return [
    ...(dropped.length === 0
      ? []
      : [
          made(
            'author-dropped',
            `${listing(dropped)} ${dropped.length === 1 ? 'is' : 'are'} no longer named among the authors.`,
            'Name everybody again whose work is still in it, unless they asked not to be.',
            lineOf(after, address, ['authors']),
          ),
        ]),
    ...(old === now || old === undefined || now === undefined
      ? []
      : [
          made(
            'license-changed',
            `The license is ${old ?? 'none'} → ${now ?? 'none'}.`,
            'Only who holds the rights in all of it can say so: ask everybody named.',
            lineOf(after, address, ['license']),
          ),
        ]),
  ];
}

/** Of a variant, or of its registry; null for none, undefined where the registry's cannot be read. */
function licenseOf({ license }: VariantDocument, { registry }: RegistryState): string | null | undefined {
  if (license !== undefined) return license;
  const whole = registry?.value ?? undefined;
  return whole === undefined ? undefined : (whole.license ?? null);
}

/** What changed beside the variants. @param judged whether the policy from before could be used */
export function fileFindings(files: readonly FileChange[], root: string, judged: boolean): ReviewFinding[] {
  const below = (path: string): string | null => (path.startsWith(root) ? path.slice(root.length) : null);
  const findings: ReviewFinding[] = [];
  const others: string[] = [];
  for (const { path, change } of files) {
    const here = below(path);
    if (here === null || !/^(registry\.yaml$|devices\/|vetting\/|advisories\/)/.test(here)) others.push(path);
    else if (here.startsWith('vetting/') && change !== 'added')
      findings.push(
        made(
          'vetting-rewritten',
          `A record of evidence or a sign-off is ${change}: ${here}.`,
          'Such records are never rewritten: bring it back, and add a new one that says what is different.',
          { file: here },
        ),
      );
    else if (here === registryFile) {
      // That it is gone, the checks tell.
      if (change === 'removed') continue;
      findings.push(
        made(
          'policy-changed',
          `The registry's own document is ${change}: its printers, materials and policy hold for every variant.`,
          judged
            ? 'Look at each of its lines; this review was made by the policy from before.'
            : 'Look at each of its lines. There was none before that can be used, so errors block here, and none is let pass.',
          { file: here },
        ),
      );
    } else if (here.startsWith('advisories/') && change !== 'added')
      findings.push(
        made(
          'advisory-changed',
          `A published hazard is ${change}: ${here}.`,
          'People rely on what was published: see that it still warns of the same, or says why not.',
          { file: here },
        ),
      );
  }
  if (others.length > 0)
    findings.push(
      made(
        'other-files',
        `${others.length === 1 ? 'A file' : `${others.length} files`} outside of the registry changed, which this review does not look into: ${listing(others)}.`,
        'Read them as any change of a program: nothing of them is run here.',
      ),
    );
  return findings;
}

function placed(state: RegistryState, address: string, part: string | null): About {
  const parts = state.variants.get(address)?.document.value?.parts ?? [];
  const k = parts.findIndex(({ id }) => id === part);
  return { ...lineOf(state, address, k < 0 ? ['title'] : ['parts', k, 'id']), part };
}

function lineOf(state: RegistryState, address: string, path: readonly (string | number)[]): About {
  const document = state.variants.get(address)?.document;
  if (document === undefined) return { variant: address };
  const { line, column } = document.place(path);
  return { variant: address, file: document.file, line, column };
}
