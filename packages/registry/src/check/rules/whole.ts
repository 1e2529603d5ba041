import type { ReadDocument } from '@kinprint/manifest';
import type { RegistryState } from '../../state/types.ts';
import { finding, inDocument, inFile, ofProblem, type Finding } from '../finding.ts';
import { circleFindings } from './circles.ts';
import { usableDocument } from '../usable.ts';
import { registryLicenseFindings } from './licenses.ts';

/** What concerns the registry as a whole: its layout, its own documents, devices, circles. */
export function wholeFindings(state: RegistryState): Finding[] {
  const devices = [...state.devices.values()];
  // Of a registry.yaml with problems what can be used is looked at all the same.
  const registry = state.registry === null ? null : (usableDocument(state.registry)?.document ?? null);
  const documents = [state.registry, ...devices.map(d => d.document), ...state.advisories.values()];
  return [
    ...state.problems.map(problem => ofProblem(problem, null)),
    ...documents.flatMap(document => (document?.problems ?? []).map(problem => ofProblem(problem, null))),
    ...(registry === null ? [] : [...registryLicenseFindings(registry), ...repeatedIds(registry)]),
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
function repeatedIds(registry: ReadDocument<'registry'>): Finding[] {
  return (['printers', 'materials'] as const).flatMap(list => {
    const ids = (registry.value?.[list] ?? []).map(item => item.id);
    return ids.flatMap((id, k) =>
      ids.indexOf(id) === k
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
