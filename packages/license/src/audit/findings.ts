import type { Basis } from '../rules/types.ts';
import type { Relation } from './works.ts';

/**
 * `error`: not allowed, or a duty that is broken. `warning`: allowed, with something to mind. `ask`: the facts decide,
 * and a person must. `note`: only said.
 */
export type AuditSeverity = 'error' | 'warning' | 'ask' | 'note';

/** Every code, and the severity that it usually has. */
export const auditCodes = {
  'license-none': 'error',
  'license-wrong': 'error',
  'license-out-of-use': 'warning',
  'license-forbidden': 'error',
  'no-permission': 'error',
  'no-derivatives': 'error',
  'share-alike': 'error',
  'version-not-allowed': 'error',
  'license-clash': 'error',
  'copy-relabeled': 'error',
  'cannot-combine': 'error',
  'two-licenses': 'warning',
  'ask-a-person': 'ask',
  'ancestor-unknown': 'ask',
  'credit-missing': 'error',
  'credit-custom': 'note',
  'change-not-indicated': 'error',
  'notice-dropped': 'warning',
  'extra-terms': 'error',
  'undeclared-relative': 'error',
  'younger-relative': 'note',
  'not-compared': 'note',
  'more-than-declared': 'error',
  'unchanged-copy': 'note',
  'branch-chosen': 'note',
  'license-withdrawn': 'note',
} as const satisfies Readonly<Record<string, AuditSeverity>>;

export type AuditCode = keyof typeof auditCodes;

/** One step up the lineage. */
export interface PathStep {
  readonly relation: Relation;
  /** The older work that it leads to. */
  readonly to: string;
}

export interface AuditFinding {
  readonly code: AuditCode;
  readonly severity: AuditSeverity;
  /** The work audited. */
  readonly work: string;
  readonly part: string | null;
  readonly text: string;
  readonly remedy: string;
  /** From the work to the older one concerned; empty where it concerns the work alone. */
  readonly path: readonly PathStep[];
  /** Further works of the lineage of which the same holds. */
  readonly also: readonly string[];
  /** Where the rule stands; null where no clause is concerned. */
  readonly basis: Basis | null;
  /** Of an undeclared relative: the derivation that would say so. */
  readonly undeclared?: PathStep;
}

export function finding(
  code: AuditCode,
  work: string,
  text: string,
  remedy: string,
  more: Partial<Pick<AuditFinding, 'severity' | 'part' | 'path' | 'also' | 'basis' | 'undeclared'>> = {},
): AuditFinding {
  return {
    code,
    severity: auditCodes[code],
    work,
    part: null,
    text,
    remedy,
    path: [],
    also: [],
    basis: null,
    ...more,
  };
}

/** Only where the rule stands, of something that says more. */
export function basisOf({ clause, source, sure }: Basis): Basis {
  return { clause, source, sure };
}

const weights: Readonly<Record<AuditSeverity, number>> = { error: 0, ask: 1, warning: 2, note: 3 };

/** Works in the order they were asked for; the worst first, then the nearest. */
export function byWeight(a: AuditFinding, b: AuditFinding): number {
  return weights[a.severity] - weights[b.severity] || a.path.length - b.path.length;
}

/** Gathers findings so that one that holds of many works is told once, for the first, with the others named. */
export interface Teller {
  /** @param make called only for the first of a key, as a path is long to tell */
  tell(key: string, id: string, make: () => AuditFinding): void;
  findings(): AuditFinding[];
}

export function teller(): Teller {
  const told = new Map<string, { readonly finding: AuditFinding; readonly ids: Set<string> }>();
  return {
    tell(key, id, make) {
      const before = told.get(key);
      if (before === undefined) told.set(key, { finding: make(), ids: new Set([id]) });
      else before.ids.add(id);
    },
    findings: () =>
      [...told.values()].map(({ finding: first, ids }) => ({ ...first, also: [...ids].slice(1) })),
  };
}
