import { plural } from '../terminal/words.ts';
import type { Card } from './cards.ts';
import { measures } from './measures.ts';
import { fitLine, fitLines, textWidth } from './text-width.ts';

/** A bead of a card's row: a letter, or the letters left out between two others. */
export interface Bead {
  /** Position in the card's nodes; null for letters left out. */
  readonly node: number | null;
  /** Letters left out. */
  readonly left: number;
  /** Center, from the card's left. */
  readonly x: number;
}

/** A card with its lines broken and its row of beads laid out; positions from its upper left corner. */
export interface CardShape {
  readonly width: number;
  readonly height: number;
  readonly title: readonly string[];
  readonly authors: string | null;
  readonly beads: readonly Bead[];
  /** Heights of the baselines, and of the beads' centers. */
  readonly at: {
    readonly address: number;
    readonly title: number;
    readonly facts: number;
    readonly size: number | null;
    readonly authors: number | null;
    readonly rule: number;
    readonly status: number;
    readonly beads: number;
  };
}

/**
 * Lays out one card. A card is as wide as the others unless more letters matter than fit in its row.
 *
 * @param used positions of letters from which a line leaves
 */
export function shapeCard(card: Card, used: ReadonlySet<number>): CardShape {
  const { width: usual, padding } = measures.card;
  const { face } = card;
  const beads = layBeads(card, used, usual - 2 * padding);
  const last = beads[beads.length - 1];
  const width = Math.max(usual, (last?.x ?? 0) + measures.bead.radius + padding);
  const room = width - 2 * padding;
  const title = balancedLines(face.title, room);
  const authors = face.authors.length === 0 ? null : authorLine(face.authors, room);
  let y = padding + measures.address - 2;
  const address = y;
  y += 9 + measures.title.size;
  const titleAt = y;
  y += measures.title.line * (Math.max(1, title.length) - 1) + 24;
  const facts = y;
  const size = face.fit === null && face.hand === null ? null : (y += 22);
  const authorsAt = authors === null ? null : (y += size === null ? 25 : 20);
  y += 13;
  const rule = y;
  y += 19;
  const status = y;
  y += 10 + measures.bead.radius;
  return {
    width,
    height: y + measures.bead.radius + 13,
    title,
    authors,
    beads,
    at: { address, title: titleAt, facts, size, authors: authorsAt, rule, status, beads: y },
  };
}

/** The title in as few lines as it takes, about equally long: no last word alone. */
function balancedLines(title: string, room: number): string[] {
  const { size, lines } = measures.title;
  const first = fitLines(title, room, size, lines, 'bold');
  let best = first;
  for (let narrower = room - 6; narrower > room / 2; narrower -= 6) {
    const next = fitLines(title, narrower, size, lines, 'bold');
    if (next.length > first.length || next.join(' ') !== first.join(' ')) break;
    best = next;
  }
  return best;
}

/** As many names as fit, the others counted. */
function authorLine(names: readonly string[], room: number): string {
  for (let k = names.length; k > 1; k -= 1) {
    const rest = k < names.length ? ` and ${plural(names.length - k, 'other')}` : '';
    const text = names.slice(0, k).join(', ') + rest;
    if (textWidth(text, measures.small) <= room) return text;
  }
  const rest = names.length > 1 ? ` and ${plural(names.length - 1, 'other')}` : '';
  return fitLine(names[0], room - textWidth(rest, measures.small), measures.small) + rest;
}

/** All letters when they fit; else the first, the last three and those that something came from, the others counted. */
function layBeads(card: Card, used: ReadonlySet<number>, room: number): Bead[] {
  const n = card.nodes.length;
  const { pitch, radius } = measures.bead;
  const fits = Math.max(1, Math.floor((room - 2 * radius) / pitch) + 1);
  const shown = (k: number): boolean =>
    n <= fits || k === 0 || k >= n - 3 || used.has(k) || card.nodes[k].status !== 'recorded';
  const beads: Bead[] = [];
  let x = measures.card.padding + radius;
  for (let k = 0; k < n;) {
    let next = k;
    while (next < n && !shown(next)) next += 1;
    if (next > k + 1) {
      beads.push({ node: null, left: next - k, x: x + 4 });
      x += pitch + 8;
    } else {
      next = k + 1;
      beads.push({ node: k, left: 0, x });
      x += pitch;
    }
    k = next;
  }
  return beads;
}
