import type { LineageNode, LineageStatus, Relation } from '@kinprint/registry';

/** The relations between variants, in the order of a legend. */
export const relations: readonly Exclude<Relation, 'revision'>[] = [
  'remix',
  'combination',
  'mirror',
  'rescale',
  'copy',
];

/** What a relation says, for a legend. */
export function relationMeaning(relation: Relation): string {
  switch (relation) {
    case 'revision':
      return 'the next letter';
    case 'remix':
      return 'changed into something new';
    case 'combination':
      return 'made from several';
    case 'mirror':
      return 'for the other hand';
    case 'rescale':
      return 'at another size';
    case 'copy':
      return 'taken as it is';
  }
}

/** What a status says, for a legend. */
export function statusMeaning(status: LineageStatus): string {
  switch (status) {
    case 'recorded':
      return 'a letter, fixed by its digest';
    case 'vetted':
      return 'has every sign-off asked for';
    case 'withdrawn':
      return 'not to be made any more';
    case 'changed':
      return 'changed since the last letter';
    case 'unrecorded':
      return 'no letter yet';
    case 'missing':
      return 'named, but not there';
    case 'unreadable':
      return 'its manifest has errors';
    case 'elsewhere':
      return 'in a registry not at hand';
  }
}

/** `no license` reads as a license would; it means that all rights are reserved. */
export function licenseText(node: LineageNode): string {
  if (node.license !== null) return node.license;
  return known(node) ? 'no license' : 'license unknown';
}

/** Whether the manifest behind a node could be read. */
export function known(node: LineageNode): boolean {
  return node.status !== 'missing' && node.status !== 'unreadable' && node.status !== 'elsewhere';
}

/** `hand breadth 58 mm`. */
export function fitText(node: LineageNode): string | null {
  if (node.fit === null) return null;
  // A size is not parted from its unit at the end of a line.
  return `${node.fit.body_measure.replaceAll('-', ' ')} ${node.fit.base_mm}\u00a0mm`;
}

/** A node's own name beside its variant's. */
export function letterText(node: LineageNode): string {
  return node.letter ?? '–';
}
