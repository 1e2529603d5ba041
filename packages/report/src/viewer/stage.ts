import { OrthographicCamera, type Scene, Vector3, WebGLRenderer } from 'three';
import type { Vec3 } from '@kinprint/mesh';
import type { Cut } from './pick.ts';
import type { Shared } from './materials.ts';
import { axesOf, type Orbit } from './orbit.ts';
import { add, dot } from './vector.ts';

/** A rectangle of a picture, in pixels of the page. */
export interface Pane {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Draws scenes for all viewers of the page: a browser gives a page only a few contexts of WebGL. */
export interface Stage {
  /**
   * @param center what the scene's coordinates are about
   * @param reach_mm no part of the scene is farther from `center`
   */
  draw(
    scene: Scene,
    shared: Shared,
    orbit: Orbit,
    place: { readonly center: Vec3; readonly reach_mm: number; readonly cut: Cut | null },
    onto: CanvasRenderingContext2D,
    pane: Pane,
    pixel: number,
  ): void;
  /** Frees what a scene took of the graphics memory that three does not see. */
  readonly renderer: WebGLRenderer;
}

let stage: Stage | 'lost' | null | undefined;

/** What a page does when the browser takes the graphics away, and when it gives them back. */
export interface StageEvents {
  readonly lost: () => void;
  readonly restored: () => void;
}

/** The one stage of the page; `lost` while the browser has taken it away; null where it has no WebGL. */
export function theStage(events: StageEvents): Stage | 'lost' | null {
  if (stage === undefined) stage = openStage(events);
  return stage;
}

function openStage(events: StageEvents): Stage | null {
  let renderer: WebGLRenderer;
  try {
    const canvas = document.createElement('canvas');
    const context = canvas.getContext('webgl2', { antialias: true, alpha: true });
    if (context === null) return null;
    renderer = new WebGLRenderer({ canvas, context, antialias: true, alpha: true });
    canvas.addEventListener('webglcontextlost', event => {
      // Else it would be gone for good.
      event.preventDefault();
      stage = 'lost';
      events.lost();
    });
    canvas.addEventListener('webglcontextrestored', () => {
      // The next viewer makes one with a canvas of its own: nothing of the old one is worth keeping.
      renderer.dispose();
      stage = undefined;
      events.restored();
    });
  } catch {
    return null;
  }
  renderer.setPixelRatio(1);
  renderer.setClearColor(0, 0);
  const camera = new OrthographicCamera();
  let [wide, high] = [0, 0];
  return {
    renderer,
    draw(scene, shared, orbit, { center, reach_mm, cut }, onto, pane, pixel) {
      const [width, height] = [Math.round(pane.width * pixel), Math.round(pane.height * pixel)];
      if (width < 1 || height < 1) return;
      if (width > wide || height > high) {
        [wide, high] = [Math.max(wide, width), Math.max(high, height)];
        renderer.setSize(wide, high, false);
      }
      const { toward, up } = axesOf(orbit);
      const target = add(orbit.target_mm, center, -1);
      const far = 2 * (reach_mm + Math.hypot(...target));
      const perPixel = orbit.span_mm / Math.min(pane.width, pane.height);
      camera.left = -0.5 * perPixel * pane.width;
      camera.right = -camera.left;
      camera.top = 0.5 * perPixel * pane.height;
      camera.bottom = -camera.top;
      camera.near = 0;
      camera.far = far;
      camera.up.set(...up);
      camera.position.set(...add(target, toward, far / 2));
      camera.lookAt(...target);
      camera.updateProjectionMatrix();
      shared.toward.value = new Vector3(...toward);
      shared.depthPerMm.value = 1 / far;
      shared.pixel.value = pixel;
      shared.dash_mm.value = 9 * perPixel;
      if (cut === null) shared.cut.value.set(0, 0, 0, 1);
      else shared.cut.value.set(...cut.normal, cut.at - dot(cut.normal, center));
      renderer.setViewport(0, 0, width, height);
      renderer.setScissor(0, 0, width, height);
      renderer.setScissorTest(true);
      renderer.render(scene, camera);
      onto.drawImage(
        renderer.domElement,
        0,
        high - height,
        width,
        height,
        Math.round(pane.x * pixel),
        Math.round(pane.y * pixel),
        width,
        height,
      );
    },
  };
}
