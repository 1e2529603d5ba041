// A few small shapes, scaled so that every file is another one. Binary STL, written without the program under test.

/** Box from the origin. */
export function box(a, b, c) {
  return extrude(
    [
      [0, 0],
      [a, 0],
      [a, b],
      [0, b],
    ],
    [
      [0, 1, 2],
      [0, 2, 3],
    ],
    c,
  );
}

/** An angle of two legs. */
export function angle(a, b, t, h) {
  const outline = [
    [0, 0],
    [a, 0],
    [a, t],
    [t, t],
    [t, b],
    [0, b],
  ];
  return extrude(
    outline,
    [
      [0, 1, 2],
      [0, 2, 3],
      [0, 3, 4],
      [0, 4, 5],
    ],
    h,
  );
}

/** The same with its upper end moved aside, so that no mirror leaves it as it is. */
export function leaning(faces, aside) {
  const top = Math.max(...faces.flat().map(p => p[2]));
  return faces.map(face => face.map(([x, y, z]) => [x + (aside[0] * z) / top, y + (aside[1] * z) / top, z]));
}

/** A round pin. */
export function pin(n, r, h) {
  return extrude(
    ring(n, r),
    Array.from({ length: n - 2 }, (_, i) => [0, i + 1, i + 2]),
    h,
  );
}

/** A ring with a round bore through it. */
export function tube(n, outer, inner, h) {
  const [o, i] = [ring(n, outer), ring(n, inner)];
  const at = (p, z) => [...p, z];
  const faces = [];
  for (let k = 0; k < n; k++) {
    const l = (k + 1) % n;
    quad(faces, at(o[k], 0), at(o[l], 0), at(o[l], h), at(o[k], h));
    quad(faces, at(i[l], 0), at(i[k], 0), at(i[k], h), at(i[l], h));
    quad(faces, at(o[k], h), at(o[l], h), at(i[l], h), at(i[k], h));
    quad(faces, at(o[l], 0), at(o[k], 0), at(i[k], 0), at(i[l], 0));
  }
  return faces;
}

/** Mirrored in the plane x = 0, turned right side out again. */
export function mirrored(faces) {
  return faces.map(([a, b, c]) => [a, c, b].map(([x, y, z]) => [-x, y, z]));
}

export function scaled(faces, s) {
  return faces.map(face => face.map(p => p.map(v => v * s)));
}

export function stl(faces) {
  const bytes = Buffer.alloc(84 + 50 * faces.length);
  bytes.writeUInt32LE(faces.length, 80);
  faces.forEach((face, f) => face.flat().forEach((v, k) => bytes.writeFloatLE(v, 84 + 50 * f + 12 + 4 * k)));
  return bytes;
}

function ring(n, r) {
  return Array.from({ length: n }, (_, k) => [
    r * Math.cos((2 * Math.PI * k) / n),
    r * Math.sin((2 * Math.PI * k) / n),
  ]);
}

function extrude(outline, caps, h) {
  const faces = [];
  const at = (k, z) => [...outline[k], z];
  for (const [a, b, c] of caps) faces.push([at(a, 0), at(c, 0), at(b, 0)], [at(a, h), at(b, h), at(c, h)]);
  outline.forEach((_, k) => {
    const l = (k + 1) % outline.length;
    quad(faces, at(k, 0), at(l, 0), at(l, h), at(k, h));
  });
  return faces;
}

function quad(faces, a, b, c, d) {
  faces.push([a, b, c], [a, c, d]);
}
