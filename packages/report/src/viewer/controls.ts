import type { Vec3 } from '@kinprint/mesh';
import { squareOn } from '../pictures/directions.ts';
import { button, check, choice, element } from './elements.ts';
import { modeNames, type Mode } from './modes.ts';
import type { AxisName, Section } from './section.ts';

export interface Wishes {
  readonly mode: (mode: Mode) => void;
  /** @param toward null for the view at first */
  readonly look: (toward: Vec3 | null) => void;
  readonly section: (section: Section | null) => void;
  readonly measuring: (on: boolean) => void;
}

export interface Controls {
  readonly root: HTMLElement;
  readonly canvas: HTMLCanvasElement;
  /** What has happened, also for who cannot see the picture. */
  say(text: string): void;
  sectionAt(text: string): void;
}

const axisNames: readonly (readonly [AxisName, string])[] = [
  ['x', 'x'],
  ['y', 'y'],
  ['z', 'z'],
];

/** The picture with all that works on it: real inputs and buttons with names. */
export function controlsOf(id: string, modes: readonly Mode[], wishes: Wishes): Controls {
  const canvas = element('canvas', {
    tabindex: '0',
    role: 'application',
    'aria-label': 'The part in three dimensions',
    'aria-describedby': `${id}-keys`,
  });
  const result = element('p', { class: 'result', role: 'status', 'aria-live': 'polite' });

  let section: Section = { axis: 'z', share: 0.5, flipped: false };
  let cutting = false;
  const at = element('output', { for: `${id}-cut` });
  const slider = element('input', {
    type: 'range',
    id: `${id}-cut`,
    min: '0',
    max: '1000',
    value: '500',
    'aria-label': 'Place of the cut',
  });
  const wish = (next: Section): void => {
    section = next;
    wishes.section(cutting ? section : null);
  };
  slider.addEventListener('input', () => wish({ ...section, share: Number(slider.value) / 1000 }));
  const cut = check('Cut', on => {
    cutting = on;
    details.hidden = !on;
    wish(section);
  });
  const across = choice(`${id}-axis`, 'across', axisNames, 'z', axis => wish({ ...section, axis }));
  const other = check('other half', flipped => wish({ ...section, flipped }));
  const details = element('span', { class: 'cut' }, across, slider, at, other.label);
  details.hidden = true;

  const measuring = check('Measure', wishes.measuring);
  const views = element(
    'div',
    { class: 'views', role: 'group', 'aria-label': 'View from' },
    button('Reset', () => wishes.look(null)),
    ...squareOn.map(({ name, toward }) => button(upperFirst(name), () => wishes.look(toward))),
  );
  const shown = choice(
    `${id}-mode`,
    'Show',
    modes.map(mode => [mode, modeNames[mode]] as const),
    modes[0],
    wishes.mode,
  );
  shown.hidden = modes.length < 2;
  const root = element(
    'div',
    { class: 'viewer' },
    element('div', { class: 'bar' }, shown, views),
    canvas,
    element('div', { class: 'bar tools' }, measuring.label, cut.label, details),
    result,
    element(
      'p',
      { class: 'keys', id: `${id}-keys` },
      'Drag or arrow keys turn, with Shift they shift; + and − zoom, Home resets, Enter measures at the cross.',
    ),
  );
  return {
    root,
    canvas,
    say: text => {
      result.textContent = text;
    },
    sectionAt: text => {
      at.textContent = text;
    },
  };
}

function upperFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
