import { element } from './elements.ts';
import { loadPart } from './load.ts';
import { theStage, type StageEvents } from './stage.ts';
import { openViewer, type Target, type Viewer } from './viewer.ts';

/** Viewers that are kept at a time; the one that was opened first makes room. */
const most = 4;

/** A part of the page whose viewer is, or is being, opened. */
interface Open {
  readonly part: HTMLElement;
  viewer: Viewer | null;
}

const open: Open[] = [];
const still = (part: Element): HTMLElement | null => part.querySelector('.still');

/** While the graphics are lost, still pictures stand in the place of the viewers. */
const events: StageEvents = {
  lost: () => {
    for (const one of [...open]) close(one);
  },
  restored: () => {
    for (const part of document.querySelectorAll<HTMLDetailsElement>('details.part[open]')) toggled(part);
  },
};

/** Without WebGL the still pictures are what there is. */
function giveUp(): void {
  for (const one of [...open]) close(one);
  document.documentElement.dataset.viewers = 'none';
  for (const list of document.querySelectorAll<HTMLElement>('[data-jump] > button')) {
    list.replaceWith(...list.childNodes);
  }
}

function close(one: Open): void {
  const at = open.indexOf(one);
  if (at >= 0) open.splice(at, 1);
  one.viewer?.close();
  one.viewer = null;
  still(one.part)?.removeAttribute('hidden');
  one.part.querySelector<HTMLElement>('.look')?.removeAttribute('data-live');
}

async function start(part: HTMLElement): Promise<Viewer | null> {
  const known = open.find(one => one.part === part);
  if (known !== undefined) return known.viewer;
  if (document.documentElement.dataset.viewers === 'none') return null;
  const block = part.querySelector('script.geometry');
  const look = part.querySelector<HTMLElement>('.look');
  if (block === null || look === null) return null;
  const stage = theStage(events);
  if (stage === 'lost') return null;
  if (stage === null) {
    giveUp();
    return null;
  }
  const one: Open = { part, viewer: null };
  open.push(one);
  while (open.length > most) close(open[0]);
  const loaded = await loadPart(block.textContent);
  // It may have been closed in the meantime.
  if (!open.includes(one)) return null;
  still(part)?.setAttribute('hidden', '');
  look.dataset.live = '';
  one.viewer = openViewer(look, loaded, stage, part.id);
  return one.viewer;
}

/** Makes what is listed of a part lead to its place. */
function jumps(part: HTMLElement): void {
  for (const item of part.querySelectorAll<HTMLElement>('[data-jump]')) {
    if (item.querySelector('button') !== null) continue;
    const [kind, number] = (item.dataset.jump ?? '').split(':');
    const target: Target = kind === 'region' ? { region: Number(number) } : { place: Number(number) };
    const made = element('button', { type: 'button', class: 'jump' });
    made.append(...item.childNodes);
    made.addEventListener('click', () => {
      void start(part).then(viewer => {
        viewer?.show(target);
        for (const other of part.querySelectorAll('.jump[aria-current]'))
          other.removeAttribute('aria-current');
        made.setAttribute('aria-current', 'true');
      });
    });
    item.append(made);
  }
}

function toggled(part: HTMLDetailsElement): void {
  if (part.open) {
    if (part.querySelector('script.geometry') === null) return;
    if (document.documentElement.dataset.viewers !== 'none') jumps(part);
    void start(part).catch(() => {
      const one = open.find(each => each.part === part);
      if (one !== undefined) close(one);
    });
  } else {
    const one = open.find(each => each.part === part);
    if (one !== undefined) close(one);
  }
}

/** A link to a part opens it. */
function follow(): void {
  const id = decodeURIComponent(location.hash.slice(1));
  const part = id === '' ? null : document.getElementById(id)?.closest('details');
  if (part instanceof HTMLDetailsElement && !part.open) {
    part.open = true;
    part.scrollIntoView();
  }
}

for (const part of document.querySelectorAll<HTMLDetailsElement>('details.part')) {
  part.addEventListener('toggle', () => toggled(part));
  if (part.open) toggled(part);
}
addEventListener('hashchange', follow);
follow();
matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => {
  for (const { viewer } of open) viewer?.redraw();
});
addEventListener('resize', () => {
  for (const { viewer } of open) viewer?.redraw();
});
