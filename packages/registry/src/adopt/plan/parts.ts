import type { Analysis, FoundPart } from '../judge/analyze.ts';
import { adoptDefaults } from '../adopt-defaults.ts';
import { pairBetween } from '../judge/kin-pairs.ts';
import { nameWords } from '../judge/name-words.ts';
import { oneLine } from '../source/commit-object.ts';
import type { Group } from './groups.ts';
import type { VariantPart } from './letters.ts';
import { baseName, idGiver, idOf, stem, titleOf } from './names.ts';
import type { Question } from './types.ts';

/** The parts of a variant with their ids, and what must be asked about them. */
export function variantParts(
  analysis: Analysis,
  group: Group,
): { readonly parts: Map<number, VariantPart>; readonly questions: Question[] } {
  const give = idGiver();
  const own = analysis.parts.filter(part => group.holds(part));
  const parts = new Map<number, VariantPart>();
  const questions: Question[] = [];
  for (const part of own) {
    const path = part.entry.path;
    const plain = withoutGroup(path, group);
    const folder = path.split('/').at(-2) ?? '';
    const id = give([idOf(plain), idOf(stem(path)), idOf(`${folder}-${stem(path)}`)], 'part');
    const doubts = part.present ? doubtsOf(part, own, analysis) : [];
    for (const { code, text } of doubts) questions.push({ code, variant: group.id, part: id, text });
    const marks = doubts.filter(doubt => doubt.code !== 'several-bodies' && doubt.code !== 'no-volume');
    parts.set(part.key, {
      part,
      id,
      title: titleOf(plain),
      unsettled: marks.length === 0 ? null : oneLine(marks.map(doubt => doubt.text).join(' '), 200),
    });
  }
  return { parts, questions };
}

/** The file's name without the words that tell the variant. */
function withoutGroup(path: string, { size, hand }: Group): string {
  let name = stem(path);
  if (size !== null) {
    const words = nameWords(`${name}.x`, adoptDefaults.smallestSizeNumber).sizes;
    const own = words.find(word => size.split('-').includes(idOf(word.label)));
    if (own !== undefined) name = own.pattern.replace('#', '');
  }
  const words = nameWords(`${name}.x`, adoptDefaults.smallestSizeNumber);
  if (hand !== null && words.hand === hand && words.handPattern !== null)
    name = words.handPattern.replace('#', '');
  return idOf(name) === '' ? stem(path) : name;
}

interface Doubt {
  readonly code: Question['code'];
  readonly text: string;
}

function doubtsOf(part: FoundPart, own: readonly FoundPart[], analysis: Analysis): Doubt[] {
  const doubts: Doubt[] = [];
  const { whole } = part.report;
  if (whole.volume_mm3 === null)
    doubts.push({
      code: 'no-volume',
      text: `${whole.notes.find(note => note.code.startsWith('no-volume'))?.text ?? 'The mesh encloses no volume.'} It cannot be checked or printed as it is.`,
    });
  if (whole.volume_mm3 !== null && whole.notes.some(note => note.code === 'inside-out'))
    doubts.push({
      code: 'no-volume',
      text: 'It is inside out: all faces point inward. Check refuses it until it is turned.',
    });
  if (part.unit !== null && analysis.unitUnsettled !== null)
    doubts.push({ code: 'unit', text: `Is it in ${plural(part.unit)}? ${analysis.unitUnsettled}` });
  if (part.small) {
    const size = Math.max(...(whole.bounds_mm?.size ?? [0])).toPrecision(3);
    doubts.push({
      code: 'unit',
      text: `Is it in millimeters? It is ${size} mm large, and other parts are larger.`,
    });
  }
  if (part.hand.unsettled !== null) doubts.push({ code: 'hand', text: part.hand.unsettled });
  for (const doubt of analysis.sizes.doubts)
    if (doubt.parts.includes(part.key)) doubts.push({ code: 'size', text: doubt.text });
  const same = own.find(
    other =>
      other.present &&
      other.key < part.key &&
      other.entry.digest !== null &&
      other.entry.digest === part.entry.digest,
  );
  if (same !== undefined)
    doubts.push({
      code: 'same-content',
      text: `The same file as ${baseName(same.entry.path)}: one part, or two to print?`,
    });
  const newer = newerVersion(part, own, analysis);
  if (newer !== null)
    doubts.push({
      code: 'older-version',
      text: `By its name and shape it may be an older or newer state of ${newer}.`,
    });
  if (part.report.objects.length > 1 || part.bodies > 1)
    doubts.push({
      code: 'several-bodies',
      text:
        part.report.objects.length > 1
          ? `The file holds ${part.report.objects.length} objects: one part, or several that should have files of their own?`
          : part.alikeBodies
            ? `The file holds ${part.bodies} separate bodies, alike in volume, area and extent: pieces of one part, or a left and a right one, that should have a file of their own?`
            : `The file holds ${part.bodies} separate bodies: one part, or several that should have files of their own?`,
    });
  return doubts;
}

/** A part of the same name but for words such as `v2`, of kindred shape. */
function newerVersion(part: FoundPart, own: readonly FoundPart[], { pairs }: Analysis): string | null {
  const isKin = (other: FoundPart): boolean => {
    const pair = pairBetween(pairs, part.key, other.key);
    return pair !== null && pair.verdict !== 'replaced' && pair.matched >= adoptDefaults.kinMatched;
  };
  const other = own.find(
    candidate =>
      candidate.present &&
      candidate.key !== part.key &&
      part.words.versionPattern !== null &&
      (candidate.words.versionPattern ?? candidate.plain) === part.words.versionPattern &&
      candidate.entry.digest !== part.entry.digest &&
      isKin(candidate),
  );
  return other === undefined ? null : baseName(other.entry.path);
}

const plurals = { inch: 'inches', foot: 'feet' } as const;

function plural(unit: NonNullable<FoundPart['unit']>): string {
  return unit === 'inch' || unit === 'foot' ? plurals[unit] : `${unit}s`;
}
