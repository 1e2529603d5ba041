/** The program; null where there is none. */
export function findChromium(): string | null;
/** The same, installed from Debian where it is missing; null where that cannot be done. */
export function haveChromium(): string | null;
