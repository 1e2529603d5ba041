import { vik } from '../pictures/deviation-map.ts';

const vikSteps = vik.map(color => `vec3(${color.map(v => (v / 255).toFixed(5)).join(', ')})`).join(', ');

/** Of surfaces and of lines: what lies beyond the cut is not drawn. */
const cutting = `
uniform vec4 cut;
varying vec3 place;
bool cutAway() { return dot(cut.xyz, place) > cut.w; }
`;

export const surfaceVertex = `
varying vec3 place;
varying vec3 facing;
varying float off;
attribute float deviation;
void main() {
  place = position;
  facing = normalMatrix * normal;
  off = deviation;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
`;

/**
 * A shaded surface. Where the cut opens a closed solid, the first thing seen behind it is the inner side of the surface
 * exactly where the cut runs through material: those pixels are painted flat and hatched, at the depth of the cut.
 */
export const surfaceFragment = `
${cutting}
varying vec3 facing;
varying float off;
uniform vec3 color;
uniform vec3 inside;
uniform float opacity;
uniform int signs;
uniform bool fills;
uniform bool flips;
uniform vec3 toward;
uniform float depthPerMm;
uniform float pixel;
uniform float limit;
const vec3 vik[12] = vec3[12](${vikSteps});

vec3 vikAt(float share) {
  float at = clamp(share, 0.0, 1.0) * 11.0;
  int k = int(min(10.0, floor(at)));
  return mix(vik[k], vik[k + 1], at - float(k));
}

/* The same staggered rows of plus and minus signs as in still pictures. */
bool onSign(vec2 p) {
  float row = floor(p.y / 11.0);
  float dx = mod(floor(p.x) + mod(row, 2.0) * 7.0, 14.0) - 6.0;
  float dy = floor(mod(p.y, 11.0)) - 5.0;
  bool level = dy == 0.0 && abs(dx) <= 3.0;
  return level || (signs == 1 && dx == 0.0 && abs(dy) <= 3.0);
}

void main() {
  if (cutAway()) discard;
  gl_FragDepth = gl_FragCoord.z;
  vec2 p = gl_FragCoord.xy / pixel;
  vec3 m = length(facing) > 0.0 ? normalize(facing) : vec3(0.0, 0.0, 1.0);
  /* Where only inner sides are drawn, they count as front. Corners that are rounded, to 32 bits and to parts of a pixel,
     turn a sliver over now and then: what its normal says more clearly than smoothing can err counts more. */
  bool back = !flips && !gl_FrontFacing && m.z < 0.26;
  if (back && fills) {
    float speed = dot(cut.xyz, toward);
    if (speed > 1e-4) gl_FragDepth = gl_FragCoord.z - depthPerMm * (cut.w - dot(cut.xyz, place)) / speed;
    bool line = mod(p.x + p.y, 8.0) < 1.2;
    gl_FragColor = vec4(line ? color * 0.45 : color * 0.82, opacity);
    return;
  }
  vec3 n = m * (back || flips ? -1.0 : 1.0);
  vec3 base = back ? inside : color;
  if (limit > 0.0) {
    float share = off / limit;
    base = off == 0.0 ? color : vikAt(0.5 - 0.5 * share);
    float quarter = abs(fract(4.0 * share - 0.5) - 0.5) / max(fwidth(4.0 * share), 1e-6);
    if (abs(share) > 0.1 && abs(share) < 0.9 && quarter < 0.6) base *= 0.45;
  }
  float light = 0.60 + 0.34 * max(0.0, dot(n, normalize(vec3(-0.35, 0.65, 0.68)))) + 0.10 * n.z;
  vec3 shown = base * light;
  if (signs > 0 && onSign(p)) shown = vec3(1.0);
  gl_FragColor = vec4(shown, opacity);
}
`;

export const lineVertex = `
varying vec3 place;
varying float run;
attribute float along;
void main() {
  place = position;
  run = along;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
`;

export const lineFragment = `
${cutting}
varying float run;
uniform vec3 color;
uniform float opacity;
uniform float dash;
void main() {
  if (cutAway()) discard;
  if (dash > 0.0 && fract(run / dash) > 0.55) discard;
  gl_FragColor = vec4(color, opacity);
}
`;
