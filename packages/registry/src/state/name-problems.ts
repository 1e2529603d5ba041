import type { Problem } from '@kinprint/manifest';
import { clashes, nameTrouble } from '../snapshot/portable-names.ts';
import { layoutProblem } from './layout-problem.ts';
import type { FileRef } from './registry-files.ts';

/**
 * Names outside of variants, and those of devices and variants, that not every system can keep apart or at all: a
 * registry that cannot be checked out everywhere. What lies in variants is told with them.
 */
export function nameProblems(refs: readonly FileRef[]): Problem[] {
  const outside = new Set(
    refs.map(({ path }) => {
      const steps = path.split('/');
      return steps[0] === 'devices' && steps.length > 3 ? steps.slice(0, 3).join('/') : path;
    }),
  );
  const every = new Set(
    [...outside].flatMap(path => {
      const steps = path.split('/');
      return steps.map((_, k) => steps.slice(0, k + 1).join('/'));
    }),
  );
  const unsafe = [...every].flatMap(path => {
    const trouble = nameTrouble(path.slice(path.lastIndexOf('/') + 1));
    return trouble === null
      ? []
      : [layoutProblem('file-name-unsafe', 'warning', path, trouble, 'Give it another name.')];
  });
  const clashing = clashes(outside).map(({ path, other }) =>
    layoutProblem(
      'file-names-clash',
      'error',
      path,
      `'${path}' and '${other}' differ only in case or accents' encoding: many file systems hold only one of them.`,
      'Rename one of them.',
    ),
  );
  return [...unsafe, ...clashing];
}
