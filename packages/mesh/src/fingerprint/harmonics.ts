/** Degrees 1 to 3: 3 + 5 + 7 functions. */
export const harmonicCount = 15;
/** Where each degree begins among them, and where the last one ends. */
export const harmonicStarts = [0, 3, 8, 15] as const;

const r3 = Math.sqrt(3);
const r15 = Math.sqrt(15);
const r38 = Math.sqrt(3 / 8);
const r58 = Math.sqrt(5 / 8);

/**
 * The real spherical harmonics of degrees 1 to 3 at a unit vector, scaled so that the squares of each degree sum to 1
 * (addition theorem). Turning the vector mixes the functions of one degree orthogonally; mirroring changes signs.
 *
 * @param into `harmonicCount` values
 */
export function harmonicsAt(x: number, y: number, z: number, into: Float64Array): void {
  const xx = x * x;
  const yy = y * y;
  const zz = z * z;
  into[0] = x;
  into[1] = y;
  into[2] = z;
  into[3] = r3 * x * y;
  into[4] = r3 * y * z;
  into[5] = r3 * z * x;
  into[6] = (r3 / 2) * (xx - yy);
  into[7] = 0.5 * (3 * zz - 1);
  into[8] = r58 * y * (3 * xx - yy);
  into[9] = r15 * x * y * z;
  into[10] = r38 * y * (5 * zz - 1);
  into[11] = 0.5 * z * (5 * zz - 3);
  into[12] = r38 * x * (5 * zz - 1);
  into[13] = (r15 / 2) * z * (xx - yy);
  into[14] = r58 * x * (xx - 3 * yy);
}
