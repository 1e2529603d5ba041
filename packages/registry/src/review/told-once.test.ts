import { describe, expect, it } from 'vitest';
import { toldOnce } from './told-once.ts';
import type { ReviewFinding } from './types.ts';

function found(code: string, more: Partial<ReviewFinding> = {}): ReviewFinding {
  return {
    origin: 'check',
    code,
    severity: 'warning',
    blocks: false,
    text: '',
    remedy: '',
    variant: 'cuff/left',
    part: null,
    file: 'devices/cuff/left/variant.yaml',
    line: 4,
    column: 1,
    ...more,
  };
}

const codes = (findings: readonly ReviewFinding[]): string[] => findings.map(({ code }) => code);

describe('toldOnce', () => {
  it('tells of a missing license once, by the finding that weighs most', () => {
    const own = [found('license-changed'), found('license-changed', { variant: 'cuff/wide' })];
    const checks = [found('license-missing'), found('file-unlisted')];
    expect(codes(toldOnce(own, checks, [found('license-none', { line: 1 })]))).toEqual([
      'license-changed',
      'file-unlisted',
      'license-none',
    ]);
    // Where the audit is silent, the check tells it.
    expect(codes(toldOnce([], checks, []))).toEqual(['license-missing', 'file-unlisted']);
  });

  it('tells of an address that leads nowhere once, and of an ancestor elsewhere all the same', () => {
    const checks = [found('derivation-letter-unknown', { line: 9 })];
    const audits = [found('ancestor-unknown', { line: 9 }), found('ancestor-unknown', { line: 12 })];
    expect(toldOnce([], checks, audits).map(({ code, line }) => [code, line])).toEqual([
      ['derivation-letter-unknown', 9],
      ['ancestor-unknown', 12],
    ]);
  });

  it('does not say that a broken mesh could not be compared', () => {
    const shell = { part: 'shell' };
    const own = [found('part-not-compared', shell), found('part-not-compared', { part: 'lid' })];
    expect(toldOnce(own, [found('mesh-no-volume', shell)], []).map(({ code, part }) => [code, part])).toEqual(
      [
        ['part-not-compared', 'lid'],
        ['mesh-no-volume', 'shell'],
      ],
    );
  });
});
