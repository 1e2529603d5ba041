import type { RegistryState } from '../../state/types.ts';
import { finding, inDocument, inFile, ofProblem, type Finding } from '../finding.ts';
import { circleFindings } from './circles.ts';
import { registryLicenseFindings } from './licenses.ts';
import { listing } from '../words.ts';

/** What concerns the registry as a whole: its layout, its own documents, devices, circles. */
export function wholeFindings(state: RegistryState): Finding[] {
  const devices = [...state.devices.values()];
  const documents = [state.registry, ...devices.map(d => d.document), ...state.advisories.values()];
  return [
    ...state.problems.map(problem => ofProblem(problem, null)),
    ...documents.flatMap(document => (document?.problems ?? []).map(problem => ofProblem(problem, null))),
    ...(state.registry === null ? [] : registryLicenseFindings(state.registry)),
    ...repeatedIds(state),
    ...devices
      .filter(device => device.variants.length === 0)
      .map(device =>
        finding(
          'device-empty',
          device.document === null ? inFile(device.folder) : inDocument(device.document, ['title']),
          `The device '${device.name}' has no variants.`,
          'Add a variant in a folder of its own, or remove the device.',
        ),
      ),
    ...circleFindings(state),
  ];
}

/** Printers and materials of registry.yaml that share an id. */
function repeatedIds(state: RegistryState): Finding[] {
  const { registry } = state;
  return (['printers', 'materials'] as const).flatMap(list => {
    const ids = (registry?.value?.[list] ?? []).map(item => item.id);
    return ids.flatMap((id, k) =>
      registry === null || ids.indexOf(id) === k
        ? []
        : [
            finding(
              'id-repeated',
              inDocument(registry, [list, k, 'id']),
              `Another of the ${list} is called '${id}' as well.`,
              'Give each its own id.',
            ),
          ],
    );
  });
}

/**
 * Variants with the same files. Those that say so (`copy`) are left out: then it is meant.
 *
 * @param contents a text that is equal where the contents are, by address
 */
export function sameContentFindings(state: RegistryState, contents: ReadonlyMap<string, string>): Finding[] {
  const groups = new Map<string, string[]>();
  for (const [address, content] of contents) groups.set(content, [...(groups.get(content) ?? []), address]);
  return [...groups.values()].flatMap(([first, ...others]) =>
    others.flatMap(address => {
      const variant = state.variants.get(address);
      if (variant === undefined || saysCopy(state, address, first) || saysCopy(state, first, address))
        return [];
      const all = listing([first, ...others].filter(other => other !== address).map(other => `'${other}'`));
      return [
        finding(
          'same-content',
          inDocument(variant.document, ['title']),
          `All files are the same as those of ${all}.`,
          'If one is a copy of the other, say so with a derivation (relation: copy); if not, one has the wrong files.',
          { variant: address },
        ),
      ];
    }),
  );
}

function saysCopy(state: RegistryState, address: string, of: string): boolean {
  const derivations = state.variants.get(address)?.document.value?.derivations ?? [];
  return derivations.some(({ from, relation }) => relation === 'copy' && from.startsWith(`${of}@`));
}
