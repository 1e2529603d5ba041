import { nearest, parseRevisionAddress, parseVariantAddress } from '@kinprint/manifest';
import { InputError } from '@kinprint/mesh';
import type { LineageGraph } from '@kinprint/registry';

/**
 * The nodes that `device/variant` or `device/variant@LETTER` names.
 *
 * @throws InputError `address-malformed`, `variant-unknown`, `revision-unknown`
 */
export function namedNodes(graph: LineageGraph, name: string): string[] {
  if (parseVariantAddress(name) === null && parseRevisionAddress(name) === null)
    throw new InputError(
      'address-malformed',
      `'${name}' is no address of a variant.`,
      'Write DEVICE/VARIANT or DEVICE/VARIANT@LETTER, as in utensil-cuff/left-58@B.',
    );
  const [address, letter] = name.split('@');
  const nodes = graph.nodes.filter(node => node.address === address);
  if (nodes.length === 0) {
    const near = nearest(address, new Set(graph.nodes.map(node => node.address)));
    throw new InputError(
      'variant-unknown',
      `There is no variant '${address}'.`,
      near === null ? 'kinprint lineage lists all.' : `Did you mean ${near}?`,
    );
  }
  if (letter === undefined) return nodes.map(node => node.id);
  const found = nodes.find(node => node.letter === letter);
  if (found !== undefined) return [found.id];
  const letters = nodes.flatMap(node => node.letter ?? []);
  throw new InputError(
    'revision-unknown',
    `There is no letter ${letter} of '${address}'.`,
    letters.length === 0
      ? 'It has none yet; kinprint record makes one.'
      : `Its letters: ${letters.join(', ')}.`,
  );
}

/** @param flag an option that says nothing without a variant */
export function needsVariant(flag: string): InputError {
  return new InputError(
    'variant-missing',
    `--${flag} needs a variant.`,
    `Write kinprint lineage DEVICE/VARIANT --${flag}${flag === 'common' ? ' OTHER' : ''}.`,
  );
}
