import type { Part } from '@kinprint/manifest';
import type { Parent } from './derive.ts';

/** The license of a derived variant, as far as its parents say it, and what a person must settle. */
export interface CarriedTerms {
  /** What to state for the whole; null where nothing may be stated, or the registry's own default says it. */
  readonly license: string | null;
  /** Whether each part states its own license, as the parents' differ and none holds for the whole. */
  readonly perPart: boolean;
  /** For people, a sentence or two each. */
  readonly unsettled: readonly string[];
  /** Marks for the derivations of parents that `check` shows until they are settled. */
  readonly marks: ReadonlyMap<Parent, readonly string[]>;
}

/**
 * One parent's license is carried over. Of several it is, where all have the same; where they differ it is a person's
 * to settle which one may hold for the whole, so none is stated and every part keeps its own. A parent without a
 * license reserves all rights (Berne Convention, articles 5(2), 8 and 12: protection needs no notice; copying and
 * adapting are the authors' to allow).
 *
 * @param parents at least one
 */
export function carriedTerms(parents: readonly Parent[]): CarriedTerms {
  const unsettled: string[] = [];
  const marks = new Map<Parent, string[]>();
  const mark = (parent: Parent, text: string) => marks.set(parent, [...(marks.get(parent) ?? []), text]);
  for (const parent of parents) {
    const bare = bareParts(parent);
    if (bare.length === 0) continue;
    const which =
      bare.length === parent.manifest.parts.length
        ? parent.address
        : `${parent.address}, of ${bare.map(id => `'${id}'`).join(', ')},`;
    unsettled.push(
      `No license is stated for ${which}: all rights are reserved. Ask its authors whether you may change and share it, and under which license, before you do.`,
    );
    mark(parent, 'No license is stated: all rights are reserved. Ask the authors.');
  }
  const licenses = new Set(parents.map(wholeLicense));
  if (licenses.size > 1) {
    const list = parents.map(parent => `${wholeLicense(parent) ?? 'none'} (${parent.address})`).join(', ');
    unsettled.push(
      `The licenses differ: ${list}. None was carried over for the whole, each part keeps its own; a person must settle which license, if any, satisfies all of them.`,
    );
    for (const parent of parents)
      mark(parent, 'The licenses of the parents differ: settle that of the whole.');
    return { license: null, perPart: true, unsettled, marks };
  }
  const [first] = parents;
  const license = first.here ? (first.manifest.license ?? null) : wholeLicense(first);
  return { license, perPart: false, unsettled, marks };
}

/** What a part states of its license in the derived variant. */
export function licenseOf(
  part: Part,
  parent: Parent,
  { perPart }: CarriedTerms,
): { readonly license?: string } {
  const license = part.license ?? (perPart ? wholeLicense(parent) : null);
  return license === null ? {} : { license };
}

function wholeLicense({ manifest, registryLicense }: Parent): string | null {
  // Where every part has a license of its own, the registry's stands for nothing.
  const covered = manifest.parts.length > 0 && manifest.parts.every(part => part.license !== undefined);
  return manifest.license ?? (covered ? null : registryLicense);
}

/** Parts that no license covers; the variant itself is one of them where it has no parts. */
function bareParts(parent: Parent): readonly string[] {
  if (wholeLicense(parent) !== null) return [];
  const { parts } = parent.manifest;
  if (parts.length === 0) return [parent.address];
  return parts.filter(part => part.license === undefined).map(part => part.id);
}
