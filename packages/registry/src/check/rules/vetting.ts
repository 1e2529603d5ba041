import { readVetting, vettedAddress } from '../../vetting/vetting-record.ts';
import type { FileRef } from '../../state/registry-files.ts';
import type { RegistryState } from '../../state/types.ts';
import { finding, inDocument, ofProblem, type Finding } from '../finding.ts';

/** What is wrong with sign-offs and evidence: a record that nobody can read would pass for one that does not exist. */
export async function vettingFindings(
  state: RegistryState,
  wanted: (address: string | null) => boolean = () => true,
): Promise<Finding[]> {
  const findings: Finding[] = [];
  for (const ref of state.vetting) {
    const address = vettedAddress(ref);
    const variant = address !== null && state.variants.has(address) ? address : null;
    if (wanted(variant)) findings.push(...(await ofFile(state, ref, variant)));
  }
  return findings;
}

async function ofFile(state: RegistryState, ref: FileRef, variant: string | null): Promise<Finding[]> {
  const { record, problems, document } = await readVetting(state.files, ref);
  if (record === null || document === null) return problems.map(problem => ofProblem(problem, variant));
  const { revision, digest } = record.value;
  const of = variant === null ? {} : { variant };
  const [address, letter] = revision.split('@');
  const vetted = state.variants.get(address);
  if (ref.path.startsWith(`vetting/${address}/${letter}/`) && vetted !== undefined) {
    const entry = vetted.document.value?.revisions?.find(each => each.letter === letter);
    if (entry === undefined || entry.digest === digest) return [];
    return [
      finding(
        'vetting-digest-differs',
        inDocument(document, ['digest']),
        `It is for another content than ${revision}, which is ${entry.digest}.`,
        'Find out which content was looked at, and write a new record for that one.',
        of,
      ),
    ];
  }
  return [
    finding(
      'vetting-misplaced',
      inDocument(document, ['revision']),
      vetted === undefined
        ? `There is no variant '${address}' that it could be about.`
        : `It is about ${revision}, and lies elsewhere, where nobody looks for it.`,
      `Put it below vetting/${address}/${letter}/, or correct the revision.`,
      of,
    ),
  ];
}
