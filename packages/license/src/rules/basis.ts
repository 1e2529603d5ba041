import type { Basis, Duty, DutyKind, DutyWhen } from './types.ts';

/** Texts that were read, as collected in the SPDX license list (github.com/spdx/license-list-XML, commit e4c1f276). */
export const spdxText = 'license text in the SPDX license list';
/** The FAQ of Creative Commons (github.com/creativecommons/faq, commit 8c7f8e29), with both charts. */
export const ccFaq = 'Creative Commons FAQ';
export const gnuList = 'GNU license list';

export function read(clause: string, source: string = spdxText): Basis {
  return { clause, source, sure: 'read' };
}

export function derived(clause: string, source: string = spdxText): Basis {
  return { clause, source, sure: 'derived' };
}

export function memory(clause: string, source = 'license text, from memory'): Basis {
  return { clause, source, sure: 'memory' };
}

/** A duty that breaks the license when it is not met. */
export function duty(kind: DutyKind, when: DutyWhen, text: string, basis: Basis): Duty {
  return { kind, when, text, required: true, ...basis };
}

/** A duty that holds where practicable, or that is custom. */
export function advice(kind: DutyKind, when: DutyWhen, text: string, basis: Basis): Duty {
  return { kind, when, text, required: false, ...basis };
}
