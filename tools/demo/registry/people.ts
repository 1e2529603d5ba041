/** The invented people of the demo. Addresses end in example.org, which nobody can own (RFC 2606). */
export interface Person {
  readonly name: string;
  readonly email: string;
}

const person = (name: string, email: string): Person => ({ name, email: `${email}@example.org` });

/** Designed the first cuff and looks after the registry. */
export const mira = person('Mira Oakfield', 'mira');
/** Prints for the lending group; stiffened the band. */
export const teo = person('Teo Lindqvale', 'teo');
/** A parent who rebuilt the strap at home. */
export const sanna = person('Sanna Brightmoor', 'sanna');
/** Grows the cuffs with the children who borrow them. */
export const ines = person('Ines Farrowgate', 'ines');
/** An occupational therapist who watches trials. */
export const jonah = person('Jonah Pellbrook', 'jonah');
/** Came later, and forgot to say where a shape was from. */
export const wim = person('Wim Hazelgard', 'wim');
/** Draws soft things for hands, and lets nobody change them. */
export const livia = person('Livia Marchbank', 'livia');
/** Prints for a club of parents, in a hurry. */
export const oskar = person('Oskar Tannefield', 'oskar');
