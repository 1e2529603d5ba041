import { derived, read } from './basis.ts';
import type { Choice } from './choices.ts';
import type { License, Verdict } from './types.ts';

/** May an unchanged copy of a work under `from` be passed on under `to`? */
export function copyVerdict(from: Choice, to: Choice): Verdict {
  if (from.license.family === 'reserved') {
    const { why, clause, source, sure } = from.license.adapt;
    return { answer: 'not-permitted', why, clause, source, sure };
  }
  const same = from.license.id === to.license.id;
  if (from.license.family === 'unknown') {
    const { collect } = from.license;
    return same
      ? {
          ...collect,
          why: `Copies keep ${from.license.id}; whether they are allowed must be read in its text.`,
        }
      : collect;
  }
  if (same && from.later === to.later)
    return {
      answer: 'permitted',
      why: 'An unchanged copy keeps its license.',
      ...derived('grant of rights'),
    };
  if (same && to.later)
    return {
      answer: 'not-permitted',
      why: `The copy offers versions after ${from.license.id}; the work is offered under that version only.`,
      ...derived(relabel(from.license)),
    };
  return relabelled(from.license, to.license);
}

function relabelled(from: License, to: License): Verdict {
  if (from.family === 'public-domain')
    return {
      answer: 'not-recommended',
      why: 'The label claims rights in what is free for everybody.',
      ...derived('section on works in the public domain', 'Creative Commons FAQ'),
    };
  if (
    from.family === 'lgpl' &&
    to.family === 'gpl' &&
    Number(to.version) >= Math.max(2, Math.floor(Number(from.version)))
  )
    return {
      answer: 'permitted',
      why: 'A copy of a work under the LGPL may be passed on under the GPL.',
      ...read('LGPL-2.1 3; LGPL-3.0 2'),
    };
  if (['permissive', 'apache', 'cern-p'].includes(from.family))
    return {
      answer: 'not-recommended',
      why: `Other terms may be added to a copy, but those of ${from.id} stay: show both.`,
      ...derived(`${from.id}, permission notice`),
    };
  return {
    answer: 'not-permitted',
    why: `An unchanged copy keeps the license of its author; who copies it cannot relabel it.`,
    ...derived(relabel(from)),
  };
}

function relabel({ id, elements, version }: License): string {
  return elements === null
    ? `${id}, verbatim copies`
    : version === '4.0'
      ? `${id} 2(a)(5)(A), (C)`
      : `${id} 3, 8(a)`;
}
