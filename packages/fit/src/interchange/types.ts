/** The three things that decide whether one item may stand for another. */
export type AspectName = 'form' | 'fit' | 'function';

/**
 * How much a reason weighs.
 *
 * - `breaks`: old and new do not swap both ways.
 * - `ask`: files cannot tell; a person must.
 * - `says`: a difference that keeps neither from standing for the other.
 */
export type Weight = 'breaks' | 'ask' | 'says';

/** Every reason, with the aspect it belongs to and what it weighs. */
export const reasonCodes = {
  reshaped: { aspect: 'form', weight: 'says' },
  'not-compared': { aspect: 'form', weight: 'ask' },
  'other-shape': { aspect: 'form', weight: 'ask' },
  'other-size': { aspect: 'form', weight: 'breaks' },
  'other-hand': { aspect: 'form', weight: 'breaks' },
  'part-added': { aspect: 'form', weight: 'ask' },
  'part-removed': { aspect: 'form', weight: 'ask' },
  'heavier-or-lighter': { aspect: 'form', weight: 'says' },
  'interface-gone': { aspect: 'fit', weight: 'breaks' },
  'interface-undeclared': { aspect: 'fit', weight: 'ask' },
  'interface-added': { aspect: 'fit', weight: 'says' },
  'interface-differs': { aspect: 'fit', weight: 'breaks' },
  'interface-moved': { aspect: 'fit', weight: 'breaks' },
  'limits-widened': { aspect: 'fit', weight: 'breaks' },
  'limits-narrowed': { aspect: 'fit', weight: 'says' },
  'mates-other': { aspect: 'fit', weight: 'ask' },
  'interface-unmeasured': { aspect: 'fit', weight: 'ask' },
  'undeclared-changed': { aspect: 'fit', weight: 'ask' },
  'nothing-declared': { aspect: 'fit', weight: 'ask' },
  'clearance-lost': { aspect: 'fit', weight: 'breaks' },
  'interference-new': { aspect: 'fit', weight: 'breaks' },
  'hardware-other': { aspect: 'fit', weight: 'breaks' },
  'hardware-changed': { aspect: 'fit', weight: 'ask' },
  'wall-thinner': { aspect: 'function', weight: 'ask' },
  'more-overhang': { aspect: 'function', weight: 'says' },
  'material-other': { aspect: 'function', weight: 'ask' },
  'turned-on-the-printer': { aspect: 'function', weight: 'ask' },
  'printed-otherwise': { aspect: 'function', weight: 'ask' },
  'to-be-shown-again': { aspect: 'function', weight: 'says' },
} as const satisfies Record<string, { readonly aspect: AspectName; readonly weight: Weight }>;

export type ReasonCode = keyof typeof reasonCodes;

/** Why something bears on whether old and new swap. */
export interface Reason {
  readonly code: ReasonCode;
  readonly aspect: AspectName;
  readonly weight: Weight;
  /** A sentence for a person. */
  readonly text: string;
}

export function reason(code: ReasonCode, text: string): Reason {
  return { code, ...reasonCodes[code], text };
}

/** `same`; `changed`; `unknown`: that must be shown or said by somebody. */
export type Aspect = 'same' | 'changed' | 'unknown';

/**
 * Whether old and new may be swapped both ways wherever they are used, by form, fit and function.
 *
 * `yes`: nothing found speaks against it. `no`: something does. `ask`: a person must say.
 */
export interface Interchange {
  readonly answer: 'yes' | 'no' | 'ask';
  readonly form: Aspect;
  readonly fit: Aspect;
  readonly function: Aspect;
  /** The weightiest first. */
  readonly reasons: readonly Reason[];
}
