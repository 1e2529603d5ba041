import { createHash } from 'node:crypto';
import { InputError } from '@kinprint/mesh';

/** One of several parts of a check that may run on different machines. */
export interface Shard {
  /** From 1. */
  readonly index: number;
  readonly of: number;
}

/**
 * `2/5`: the second of five.
 *
 * @throws InputError `shard-malformed`
 */
export function parseShard(text: string): Shard {
  const [, index, of] = (/^([0-9]{1,6})\/([0-9]{1,6})$/.exec(text) ?? []).map(Number);
  if (index === undefined || of === undefined || index < 1 || index > of)
    throw new InputError(
      'shard-malformed',
      `'${text}' names no shard.`,
      'Write I/N with 1 ≤ I ≤ N, e.g. 2/5 for the second of five.',
    );
  return { index, of };
}

/**
 * Whether a variant belongs to a shard: by a hash of its address, so that adding a variant moves no other one. Every
 * variant belongs to exactly one of N.
 */
export function inShard(address: string, { index, of }: Shard): boolean {
  return createHash('sha256').update(address).digest().readUInt32BE(0) % of === index - 1;
}
