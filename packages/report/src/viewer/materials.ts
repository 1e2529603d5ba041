import { BackSide, DoubleSide, FrontSide, ShaderMaterial, Vector3, Vector4 } from 'three';
import type { Rgb } from '../pictures/colors.ts';
import { lineFragment, lineVertex, surfaceFragment, surfaceVertex } from './shaders.ts';

/** What all materials of a picture share; written before each one is drawn. */
export interface Shared {
  readonly cut: { value: Vector4 };
  readonly toward: { value: Vector3 };
  /** Depth, 0…1, that a millimeter toward the eye takes. */
  readonly depthPerMm: { value: number };
  /** Pixels of the screen per pixel of the page. */
  readonly pixel: { value: number };
  /** Length of a dash with its gap. */
  readonly dash_mm: { value: number };
}

export function sharedUniforms(): Shared {
  return {
    cut: { value: new Vector4(0, 0, 0, 1) },
    toward: { value: new Vector3() },
    depthPerMm: { value: 0 },
    pixel: { value: 1 },
    dash_mm: { value: 0 },
  };
}

export interface SurfaceLook {
  readonly color: Rgb;
  readonly opacity?: number;
  readonly signs?: 'added' | 'removed';
  /** A cut through it is filled. */
  readonly fills?: boolean;
  /** Only the inner side is drawn, as if it were the outer one. */
  readonly flips?: boolean;
  /** Ends of the deviation colors. */
  readonly limit_mm?: number;
  /** Nearer to the eye than what coincides with it, or farther. */
  readonly layer?: number;
}

const byte = ([r, g, b]: Rgb): Vector3 => new Vector3(r / 255, g / 255, b / 255);
/** The inner side of a surface, which only an open one shows. */
const inside = new Vector3(0.725, 0.698, 0.769);

export function surfaceMaterial(shared: Shared, look: SurfaceLook): ShaderMaterial {
  const opacity = look.opacity ?? 1;
  const layer = look.layer ?? 0;
  return new ShaderMaterial({
    vertexShader: surfaceVertex,
    fragmentShader: surfaceFragment,
    uniforms: {
      cut: shared.cut,
      toward: shared.toward,
      depthPerMm: shared.depthPerMm,
      pixel: shared.pixel,
      color: { value: byte(look.color) },
      inside: { value: inside },
      opacity: { value: opacity },
      signs: { value: look.signs === 'added' ? 1 : look.signs === 'removed' ? 2 : 0 },
      fills: { value: look.fills ?? false },
      flips: { value: look.flips ?? false },
      limit: { value: look.limit_mm ?? 0 },
    },
    side: look.flips ? BackSide : opacity < 1 ? FrontSide : DoubleSide,
    transparent: opacity < 1,
    depthWrite: opacity >= 1,
    polygonOffset: true,
    polygonOffsetFactor: 1 - layer,
    polygonOffsetUnits: 1 - layer,
  });
}

export function lineMaterial(shared: Shared, color: Rgb, opacity: number, dashed = false): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader: lineVertex,
    fragmentShader: lineFragment,
    uniforms: {
      cut: shared.cut,
      color: { value: byte(color) },
      opacity: { value: opacity },
      dash: dashed ? shared.dash_mm : { value: 0 },
    },
    transparent: true,
    depthWrite: false,
  });
}
