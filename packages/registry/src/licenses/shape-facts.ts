import type { ShapeFact } from '@kinprint/license';
import type { KinReport } from '../kin/kin-of.ts';
import type { RegistryWorks } from './works-of.ts';

/** What kin found and the lineage does not tell, for the audit: each relative by its oldest place, the strongest first. */
export function shapeFacts({ answers }: KinReport, { heads, works }: RegistryWorks): ShapeFact[] {
  const dates = new Map(works.map(work => [work.id, work.date ?? '9999']));
  return answers.flatMap(({ registered, relatives }) => {
    const work = registered === null ? undefined : heads.get(registered.address);
    if (registered === null || work === undefined) return [];
    return relatives.flatMap(({ places, kinship }): ShapeFact[] => {
      const others = places
        .filter(place => place.declared === 'not-declared')
        .map(place => ({
          work: place.letter === null ? heads.get(place.address) : `${place.address}@${place.letter}`,
          part: place.part,
        }))
        .flatMap(({ work: id, part }) => (id === undefined || !dates.has(id) ? [] : [{ work: id, part }]))
        .sort((a, b) => ((dates.get(a.work) ?? '') < (dates.get(b.work) ?? '') ? -1 : 1));
      if (others.length === 0) return [];
      const mirrored = kinship.mirrored && kinship.relation !== 'reworked' && kinship.relation !== 'rescaled';
      return [
        {
          work,
          part: registered.part,
          other: others[0],
          kinship: mirrored ? 'mirrored' : kinship.relation,
          // Kin tells the size of the other with ours as 1.
          scale: kinship.scale === 1 ? null : 1 / kinship.scale,
        },
      ];
    });
  });
}
