import type { DeviceDocument, VariantDocument } from '@kinprint/manifest';
import type { VariantState } from '../../state/types.ts';
import { inManifest, type Finding } from '../finding.ts';

/** Ranges of sizes that no size lies in, and a body measure that is not the device's. */
export function fitFindings(
  variant: VariantState,
  manifest: VariantDocument,
  device: DeviceDocument | null,
): Finding[] {
  const { fit } = manifest;
  if (fit === undefined) return [];
  const findings: Finding[] = [];
  if (fit.scales !== undefined && fit.scales.least > fit.scales.most)
    findings.push(
      inManifest(
        variant,
        'fit-upside-down',
        ['fit', 'scales', 'least'],
        `The least scale, ${fit.scales.least}, is more than the most, ${fit.scales.most}.`,
        'Exchange the two.',
      ),
    );
  const measure = device?.body_measure;
  if (measure !== undefined && measure !== fit.body_measure)
    findings.push(
      inManifest(
        variant,
        'fit-measure-differs',
        ['fit', 'body_measure'],
        `The variant is sized by '${fit.body_measure}', its device by '${measure}'.`,
        'Use one body measure for all variants, so that their sizes can be compared.',
      ),
    );
  return findings;
}
