import { exceptionId, licenseId } from './words.ts';
import type { Expression, Term } from './tree.ts';

/** Why a text is no license expression. */
export type ExpressionFault =
  | 'empty'
  | 'too-long'
  | 'too-deep'
  | 'unknown-license'
  | 'unknown-exception'
  | 'operand-missing'
  | 'operator-missing'
  | 'operator-case'
  | 'parenthesis'
  | 'stray-sign';

export type ParsedExpression =
  | {
      readonly ok: true;
      readonly expression: Expression;
      /** Ids out of use, as the text has them. */
      readonly outOfUse: readonly string[];
    }
  | {
      readonly ok: false;
      readonly fault: ExpressionFault;
      /** The word concerned; empty at the end of the text. */
      readonly word: string;
      /** Where that word begins, from 0 on. */
      readonly at: number;
    };

/** Bounds against hostile texts; longer than any expression seen. Common practice, no source. */
export const bounds = { signs: 5_000, depth: 100 } as const;

interface Word {
  readonly text: string;
  readonly at: number;
}

class Fault extends Error {
  readonly fault: ExpressionFault;
  readonly word: string;
  readonly at: number;
  constructor(fault: ExpressionFault, { text, at }: Word) {
    super(fault);
    this.fault = fault;
    this.word = text;
    this.at = at;
  }
}

/**
 * Reads a license expression. Never throws. Ids match in any letter case; operators are upper case, in specification 3.0
 * all-lower as well. `+` binds tightest, then WITH, AND, OR.
 *
 * @param specification which edition's grammar (SPDX 2.3 annex D, SPDX 3.0 annex B); registries are written in 2.3
 */
export function parseExpression(text: string, specification: '2.3' | '3.0' = '2.3'): ParsedExpression {
  if (text.length > bounds.signs) return { ok: false, fault: 'too-long', word: '', at: 0 };
  const words = [...text.matchAll(/[()]|[^\s()]+/g)].map(match => ({ text: match[0], at: match.index }));
  const outOfUse: string[] = [];
  const end: Word = { text: '', at: text.length };
  let next = 0;

  const operator = (word: Word): string => {
    const upper = word.text.toUpperCase();
    if (!['AND', 'OR', 'WITH'].includes(upper)) return '';
    if (word.text === upper || (specification === '3.0' && word.text === upper.toLowerCase())) return upper;
    throw new Fault('operator-case', word);
  };
  const here = (): Word => words[next] ?? end;
  const takes = (wanted: string): boolean => {
    if (operator(here()) !== wanted) return false;
    next += 1;
    return true;
  };

  const joined = (kind: 'and' | 'or', member: (depth: number) => Expression, depth: number): Expression => {
    const members = [member(depth)];
    while (takes(kind.toUpperCase())) members.push(member(depth));
    if (members.length === 1) return members[0];
    // Both operators are associative: what is nested without need is told flat.
    return { kind, members: members.flatMap(m => (m.kind === kind ? m.members : [m])) };
  };
  const any = (depth: number): Expression => joined('or', all, depth);
  const all = (depth: number): Expression => joined('and', operand, depth);

  const operand = (depth: number): Expression => {
    const word = here();
    if (word === end || word.text === ')' || operator(word) !== '') throw new Fault('operand-missing', word);
    next += 1;
    if (word.text !== '(') return term(word);
    if (depth >= bounds.depth) throw new Fault('too-deep', word);
    const inner = any(depth + 1);
    if (here().text !== ')') throw new Fault(here() === end ? 'parenthesis' : 'operator-missing', here());
    next += 1;
    // WITH belongs to one license (SPDX 2.3, annex D.4), never to a group.
    if (operator(here()) === 'WITH') throw new Fault('stray-sign', here());
    return inner;
  };

  const term = (word: Word): Term => {
    const bare = license(word);
    if (!takes('WITH')) return bare;
    const exception = here();
    next += 1;
    if (exception === end || /^[()]$/.test(exception.text)) throw new Fault('operand-missing', exception);
    return { ...bare, exception: exceptionOf(exception) };
  };

  const license = (word: Word): Term => {
    const { text: id } = word;
    if (/^(DocumentRef-[A-Za-z0-9.-]+:)?LicenseRef-[A-Za-z0-9.-]+$/.test(id))
      return { kind: 'license', id, orLater: false, exception: null };
    if (id === '+') throw new Fault('stray-sign', word);
    const whole = licenseId(id);
    const known = whole ?? (id.endsWith('+') ? licenseId(id.slice(0, -1)) : null);
    if (known === null) throw new Fault('unknown-license', word);
    if (known.old) outOfUse.push(id);
    return plus(known.id, whole === null);
  };

  const exceptionOf = (word: Word): string => {
    const known = exceptionId(word.text);
    if (known !== null) {
      if (known.old) outOfUse.push(word.text);
      return known.id;
    }
    const addition = /^(DocumentRef-[A-Za-z0-9.-]+:)?AdditionRef-[A-Za-z0-9.-]+$/.test(word.text);
    if (addition && specification === '3.0') return word.text;
    throw new Fault('unknown-exception', word);
  };

  try {
    if (words.length === 0) throw new Fault('empty', end);
    const expression = any(0);
    if (next < words.length) {
      const word = here();
      throw new Fault(
        word.text === ')' ? 'parenthesis' : word.text === '+' ? 'stray-sign' : 'operator-missing',
        word,
      );
    }
    return { ok: true, expression, outOfUse };
  } catch (fault) {
    if (!(fault instanceof Fault)) throw fault;
    return { ok: false, fault: fault.fault, word: fault.word, at: fault.at };
  }
}

/** `GPL-2.0-only+` says what `GPL-2.0-or-later` says; `…-or-later+` says nothing more. */
function plus(id: string, written: boolean): Term {
  const later = written && !id.endsWith('-or-later');
  if (later && id.endsWith('-only'))
    return { kind: 'license', id: id.replace(/-only$/, '-or-later'), orLater: false, exception: null };
  return { kind: 'license', id, orLater: later, exception: null };
}
