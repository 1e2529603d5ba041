import type { LineageNode, LineageStatus } from './types.ts';

/** A node that nothing is known of but its name. */
export function bareNode(address: string, letter: string | null, status: LineageStatus): LineageNode {
  return {
    id: letter === null ? address : `${address}@${letter}`,
    address,
    letter,
    title: address,
    license: null,
    authors: [],
    hand: null,
    fit: null,
    date: null,
    by: null,
    digest: null,
    status,
  };
}
