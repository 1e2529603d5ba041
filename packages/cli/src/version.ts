/** The version of kinprint; a test holds it to the one in package.json. */
export const version = '0.1.0';
