import { shifted, turned, zoomed, type Orbit } from './orbit.ts';
import type { Spot } from './spot.ts';

/** What a canvas asks of its viewer. */
export interface Handled {
  orbit(): Orbit;
  /** Length that a pixel shows. */
  perPixel(): number;
  size_mm: number;
  moved(orbit: Orbit): void;
  /** A click, a tap; or null for the middle, by the keyboard. */
  picked(spot: Spot | null): void;
  reset(): void;
  focused(): void;
}

const degree = Math.PI / 180;

/** Dragging turns, dragging with the right button or Shift shifts, two fingers zoom; so do the keys. */
export function listen(canvas: HTMLCanvasElement, handled: Handled): void {
  const down = new Map<number, Spot>();
  let travelled = 0;
  const at = (event: PointerEvent | WheelEvent): Spot => {
    const box = canvas.getBoundingClientRect();
    return {
      x: event.clientX - box.left - canvas.clientLeft,
      y: event.clientY - box.top - canvas.clientTop,
    };
  };
  const spread = (): number => {
    const [a, b] = [...down.values()];
    return Math.hypot(a.x - b.x, a.y - b.y);
  };
  canvas.addEventListener('pointerdown', event => {
    down.set(event.pointerId, at(event));
    travelled = down.size > 1 ? Infinity : 0;
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener('pointermove', event => {
    const last = down.get(event.pointerId);
    if (last === undefined) return;
    const now = at(event);
    const before = down.size === 2 ? spread() : 0;
    down.set(event.pointerId, now);
    const [dx, dy] = [now.x - last.x, now.y - last.y];
    travelled += Math.hypot(dx, dy);
    const orbit = handled.orbit();
    if (down.size === 2) {
      const factor = spread() / Math.max(1, before);
      const mm = handled.perPixel() / 2;
      handled.moved(shifted(zoomed(orbit, factor, handled.size_mm), dx * mm, -dy * mm));
    } else if (event.shiftKey || (event.buttons & 6) !== 0) {
      const mm = handled.perPixel();
      handled.moved(shifted(orbit, dx * mm, -dy * mm));
    } else if (travelled > 3) {
      handled.moved(turned(orbit, { azimuth: -0.5 * dx * degree, elevation: 0.5 * dy * degree }));
    }
  });
  canvas.addEventListener('pointerup', event => {
    const spot = down.get(event.pointerId);
    down.delete(event.pointerId);
    if (spot !== undefined && travelled <= 3 && event.button === 0) handled.picked(at(event));
  });
  canvas.addEventListener('pointercancel', event => down.delete(event.pointerId));
  canvas.addEventListener('contextmenu', event => event.preventDefault());
  canvas.addEventListener(
    'wheel',
    event => {
      // The page scrolls on until the picture has been chosen.
      if (document.activeElement !== canvas && !event.ctrlKey) return;
      event.preventDefault();
      handled.moved(zoomed(handled.orbit(), Math.exp(-0.0015 * event.deltaY), handled.size_mm));
    },
    { passive: false },
  );
  canvas.addEventListener('focus', () => handled.focused());
  canvas.addEventListener('blur', () => handled.focused());
  canvas.addEventListener('keydown', event => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (!act(event.key, event.shiftKey)) return;
    event.preventDefault();
  });

  function act(key: string, shift: boolean): boolean {
    const orbit = handled.orbit();
    const arrows: Readonly<Record<string, readonly [number, number]>> = {
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      ArrowUp: [0, 1],
      ArrowDown: [0, -1],
    };
    const arrow = arrows[key];
    if (arrow !== undefined) {
      const [x, y] = arrow;
      const mm = 0.05 * orbit.span_mm;
      handled.moved(
        shift
          ? shifted(orbit, -x * mm, -y * mm)
          : turned(orbit, { azimuth: 5 * x * degree, elevation: 5 * y * degree }),
      );
      return true;
    }
    switch (key) {
      case '+':
      case '=':
        handled.moved(zoomed(orbit, 1.2, handled.size_mm));
        return true;
      case '-':
      case '_':
        handled.moved(zoomed(orbit, 1 / 1.2, handled.size_mm));
        return true;
      case 'Home':
        handled.reset();
        return true;
      case 'Enter':
      case ' ':
        handled.picked(null);
        return true;
      default:
        return false;
    }
  }
}
