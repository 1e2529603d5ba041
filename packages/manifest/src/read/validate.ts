import type { DocumentKind, Documents } from '../documents.ts';
import * as validators from '../generated/validators.ts';

/** One objection of a validator, as ajv tells it (with `verbose`). */
export interface Objection {
  readonly keyword: string;
  readonly instancePath: string;
  readonly schemaPath: string;
  readonly params: Readonly<Record<string, unknown>>;
  /** The keyword's value, and the schema it stands in. */
  readonly schema: unknown;
  readonly parentSchema: Readonly<Record<string, unknown>>;
  readonly data: unknown;
  readonly propertyName?: string;
}

type Validator = ((value: unknown) => boolean) & { readonly errors?: readonly Objection[] | null };

/** Everything that a value has against the schema of its kind. */
export function objections(kind: DocumentKind, value: unknown): readonly Objection[] {
  const validate = (validators as Readonly<Record<DocumentKind, Validator>>)[kind];
  return validate(value) ? [] : (validate.errors ?? []);
}

/** Whether a value that was kept elsewhere than in its text still is a document of the kind. */
export function isDocument<K extends DocumentKind>(kind: K, value: unknown): value is Documents[K] {
  return objections(kind, value).length === 0;
}
