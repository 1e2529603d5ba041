import { usableRest, type DocumentKind, type DocumentPath, type ReadDocument } from '@kinprint/manifest';
import type { VariantState } from '../state/types.ts';

/** A document to look further into, although its schema may object to some of it. */
export interface UsableDocument<K extends DocumentKind> {
  /** With a value; its places are those of the whole document. */
  readonly document: ReadDocument<K>;
  /** What of the document is not in the value. */
  readonly lost: readonly DocumentPath[];
}

export interface UsableVariant {
  readonly variant: VariantState;
  readonly lost: readonly DocumentPath[];
}

const known = new WeakMap<ReadDocument, UsableDocument<DocumentKind> | null>();

/** The document, or what of it can be used; null where nothing can. */
export function usableDocument<K extends DocumentKind>(document: ReadDocument<K>): UsableDocument<K> | null {
  if (document.value !== null) return { document, lost: [] };
  const before = known.get(document);
  if (before !== undefined) return before as UsableDocument<K> | null;
  const rest = usableRest(document.kind, document.text);
  const usable =
    rest === null
      ? null
      : {
          document: {
            ...document,
            value: rest.value,
            place: (path: DocumentPath) => document.place(rest.original(path)),
          },
          lost: rest.lost,
        };
  known.set(document, usable);
  return usable;
}

/** The variant with what of its manifest can be used; null where nothing can. */
export function usableVariant(variant: VariantState): UsableVariant | null {
  const usable = usableDocument(variant.document);
  return usable === null ? null : { variant: { ...variant, document: usable.document }, lost: usable.lost };
}

/** What of the documents that a finding rests on cannot be used; the empty path stands for all of a document. */
export interface Lost {
  readonly manifest: readonly DocumentPath[];
  readonly registry: readonly DocumentPath[];
}

/**
 * Whether a finding says that something is not there which may be in what was lost: such a finding waits until the
 * document is clean.
 */
export function mayBeLost(code: string, { manifest, registry }: Lost): boolean {
  switch (code) {
    case 'placement-unknown':
      return reaches(manifest, 'parts', 2);
    case 'mate-unknown':
      return reaches(manifest, 'parts', 5) || reaches(manifest, 'hardware', 2);
    case 'file-unlisted':
      return reaches(manifest, 'parts', 5);
    case 'license-missing':
      return reaches(manifest, 'parts', 3) || reaches(registry, 'license', 1);
    case 'source-unknown':
      return reaches(registry, 'sources', 2);
    case 'material-unknown':
      return reaches(registry, 'materials', 2);
    case 'part-too-large':
    case 'part-fits-lying':
    case 'part-fits-turned':
      return reaches(registry, 'printers', 2);
    default:
      return false;
  }
}

/** Whether anything was lost under a key, down to a depth, or any key of the root, which may have been meant for it. */
function reaches(lost: readonly DocumentPath[], key: string, depth: number): boolean {
  return lost.some(path => path.length <= 1 || (path[0] === key && path.length <= depth));
}
