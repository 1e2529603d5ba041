import type { Author, Edit, Part, VariantDocument } from '@kinprint/manifest';
import type { PartFacts } from '../check/facts.ts';
import { listing } from '../check/words.ts';
import { joinRelatives, type KnownRelative } from './join-relatives.ts';
import { placeLines, withLines, type PlacedLines } from './place-lines.ts';
import type { MissingKind, MissingLine } from './types.ts';
import { undeclaredRounds } from './undeclared-rounds.ts';

/** What is known of a variant when its manifest is looked through for what it lacks. */
export interface ManifestKnowledge {
  /** Of variant.yaml, and what it says. */
  readonly text: string;
  readonly manifest: VariantDocument;
  /** Whether it is new, and not another state of something that was there. */
  readonly added: boolean;
  /** What the registry gives variants that name none. */
  readonly registryLicense: string | null;
  /** In the order of the derivations. */
  readonly parents: readonly KnownParent[];
  /** In the order of the manifest. */
  readonly parts: readonly KnownPart[];
  /** People whom licenses ask to name, and who are not named. */
  readonly owed: readonly { readonly author: Author; readonly of: string }[];
  /** What it has the shape of, and does not say. */
  readonly relatives: readonly KnownRelative[];
  /** What its device is for. */
  readonly purpose: string | null;
}

export interface KnownParent {
  /** null where it is not at hand. */
  readonly digest: string | null;
  readonly summary: string | null;
  readonly license: string | null;
  /** What a comparison with it found; null where nothing, or nobody knows. */
  readonly changes: string | null;
}

export interface KnownPart {
  /** The part of the same id that it came from. */
  readonly was: Part | null;
  /** null where it is the shape that it was, or cannot be measured. */
  readonly facts: PartFacts | null;
}

/** Lines that are missing, and what they are made of: as a rule one thing, and several where these share a line. */
export interface OfferedLine {
  readonly line: MissingLine;
  readonly made: readonly Offer[];
}

export interface Offer {
  readonly kind: MissingKind;
  readonly part?: string;
  readonly why: string;
  readonly certain: boolean;
  readonly edits: readonly Edit[];
}

/** What a manifest lacks and what is known, as lines to put in; by line. Pure. */
export function missingLines(known: ManifestKnowledge): OfferedLine[] {
  const offers = [
    ...summaryOffer(known),
    ...licenseOffer(known),
    ...authorsOffer(known),
    ...relativesOffer(known),
    ...known.parents.flatMap((parent, k) => derivationOffers(known, parent, k)),
    ...known.parts.flatMap((part, k) => partOffers(known, part, k)),
  ];
  return offers
    .flatMap(offer => offeredLine(known.text, [offer]) ?? [])
    .sort((a, b) => a.line.line - b.line.line || indentOf(b) - indentOf(a))
    .reduce<OfferedLine[]>((told, next) => {
      const last = told.at(-1);
      // Two ways to write one line anew would undo each other.
      const both =
        last !== undefined && next.line.line < last.line.line + last.line.replaces
          ? offeredLine(known.text, [...last.made, ...next.made])
          : null;
      return both === null ? [...told, next] : [...told.slice(0, -1), both];
    }, []);
}

/** null where the manifest cannot be edited so. */
function offeredLine(text: string, made: readonly Offer[]): OfferedLine | null {
  const placed = placeLines(
    text,
    made.flatMap(({ edits }) => edits),
  );
  if (placed === null) return null;
  const { kind, part = null } = made[made.length - 1];
  const { line, replaces, lines } = kind === 'interfaces' ? remarked(text, placed) : placed;
  return {
    line: {
      kind,
      part,
      why: made.map(({ why }) => why).join(' '),
      certain: made.every(({ certain }) => certain),
      line,
      replaces,
      text: lines.join('\n'),
    },
    made,
  };
}

/** What goes on with a group stands above what begins the next. */
function indentOf({ line }: OfferedLine): number {
  return line.text.search(/\S/);
}

function summaryOffer({ manifest, parents, purpose }: ManifestKnowledge): Offer[] {
  if (manifest.summary !== undefined) return [];
  const theirs = parents.find(({ summary }) => summary !== null)?.summary ?? null;
  const value = theirs ?? purpose;
  if (value === null) return [];
  const whose = theirs === null ? 'what its device is for' : 'that of what it came from';
  const why = `Nothing says what it is. This is ${whose}: say what this one has that others have not.`;
  return [{ kind: 'summary', why, certain: false, edits: [{ path: ['summary'], value }] }];
}

function licenseOffer({ manifest, registryLicense, parents }: ManifestKnowledge): Offer[] {
  const covered = manifest.parts.length > 0 && manifest.parts.every(({ license }) => license !== undefined);
  if (manifest.license !== undefined || registryLicense !== null || covered) return [];
  const licenses = new Set(parents.map(({ license }) => license));
  const [license] = licenses;
  if (licenses.size !== 1 || license === null || license === undefined) return [];
  return [
    {
      kind: 'license',
      why: 'No license is stated, so all rights are reserved. What it came from is under this one.',
      certain: parents.length === 1,
      edits: [{ path: ['license'], value: license }],
    },
  ];
}

function authorsOffer({ manifest, owed }: ManifestKnowledge): Offer[] {
  if (owed.length === 0) return [];
  const works = listing([...new Set(owed.map(({ of }) => of))]);
  return [
    {
      kind: 'authors',
      why: `Licenses ask that who made ${works} is named.`,
      certain: true,
      edits: appended(
        'authors',
        manifest.authors,
        owed.map(({ author }) => author),
      ),
    },
  ];
}

function relativesOffer({ manifest, relatives }: ManifestKnowledge): Offer[] {
  const named = new Set((manifest.derivations ?? []).map(({ from }) => from));
  const others = relatives.filter(({ from }) => !named.has(from));
  const found = joinRelatives(others, manifest.parts.length);
  if (found.length === 0) return [];
  const parts = [...new Set(others.flatMap(({ part }) => part ?? []))];
  return [
    {
      kind: 'derivation',
      why: `${parts.length === 0 ? 'It' : listing(parts)} ${parts.length > 1 ? 'have' : 'has'} the shape of what is named here. Put in what is so, and nothing that is chance.`,
      certain: false,
      edits: appended(
        'derivations',
        manifest.derivations,
        found.map(({ from, relation, digest }) => ({
          from,
          ...(digest === null ? {} : { digest }),
          relation,
        })),
      ),
    },
  ];
}

/** The one mark that naming the changes settles. */
const sayChanges = 'Say what was changed.';

function derivationOffers(
  { manifest }: ManifestKnowledge,
  { digest, changes }: KnownParent,
  k: number,
): Offer[] {
  const derivation = manifest.derivations?.[k];
  if (derivation === undefined) return [];
  const offers: Offer[] = [];
  if (derivation.digest === undefined && digest !== null)
    offers.push({
      kind: 'digest',
      why: `The digest says which content ${derivation.from} was.`,
      certain: true,
      edits: [{ path: ['derivations', k, 'digest'], value: digest }],
    });
  if (derivation.changes === undefined && changes !== null)
    offers.push({
      kind: 'changes',
      why: 'Many licenses ask to say what was changed. This is what the comparison found: say also what it is for.',
      certain: false,
      edits: [
        { path: ['derivations', k, 'changes'], value: changes },
        ...(derivation.unsettled === sayChanges
          ? [{ path: ['derivations', k, 'unsettled'], value: undefined }]
          : []),
      ],
    });
  return offers;
}

function partOffers({ manifest, added }: ManifestKnowledge, { was, facts }: KnownPart, k: number): Offer[] {
  const part = manifest.parts[k];
  const offers: Offer[] = [];
  // Of what was there before, whoever took a setting out meant to.
  if (added && was !== null)
    for (const kind of ['material', 'print'] as const)
      if (part[kind] === undefined && was[kind] !== undefined)
        offers.push({
          kind,
          part: part.id,
          why: `'${part.id}' does not say how it is printed; what it came from does.`,
          certain: true,
          edits: [{ path: ['parts', k, kind], value: was[kind] }],
        });
  const declared = part.interfaces ?? [];
  const rounds = facts === null ? [] : undeclaredRounds(declared, facts);
  if (rounds.length > 0)
    offers.push({
      kind: 'interfaces',
      part: part.id,
      why: `The mesh of '${part.id}' has ${rounds.length === 1 ? `a ${rounds[0].kind}` : 'bores or pins'} that nothing is said of. Declare what takes something; leave out the rest.`,
      certain: false,
      edits:
        declared.length === 0
          ? [{ path: ['parts', k, 'interfaces'], value: rounds }]
          : rounds.map((round, n) => ({
              path: ['parts', k, 'interfaces', declared.length + n],
              value: round,
            })),
    });
  return offers;
}

function appended(key: string, old: readonly unknown[] | undefined, items: readonly unknown[]): Edit[] {
  if (old === undefined || old.length === 0) return [{ path: [key], value: items }];
  return items.map((value, n) => ({ path: [key, old.length + n], value }));
}

/** What a mesh does not tell, for a person to fill in. */
const remarks = [
  '# scale: follow, or hold where it takes what is bought',
  '# mates: part/interface, hardware/id or body',
];

/** With the remarks below each interface, where they change nothing of what it says. */
function remarked(text: string, placed: PlacedLines): PlacedLines {
  const starts = placed.lines.flatMap((line, k) => (/^\s*- id: /.test(line) ? [k] : []));
  if (starts.length === 0) return placed;
  const indent = ' '.repeat(placed.lines[starts[0]].indexOf('id:'));
  const lines = placed.lines.flatMap((line, k) => {
    const last = k === placed.lines.length - 1 || starts.includes(k + 1);
    return last && k >= starts[0] ? [line, ...remarks.map(remark => indent + remark)] : [line];
  });
  const more = { ...placed, lines };
  const plain = (t: string): string => t.replace(/^\s*#.*\r?\n/gm, '');
  return plain(withLines(text, more)) === plain(withLines(text, placed)) ? more : placed;
}
