import { reason, type Reason } from '@kinprint/fit';
import type { Hardware } from '@kinprint/manifest';
import type { HardwareChange } from './types.ts';

export interface HardwareReviewed {
  readonly changes: readonly HardwareChange[];
  readonly reasons: readonly Reason[];
}

/** What must be bought otherwise. */
export function reviewHardware(before: readonly Hardware[], after: readonly Hardware[]): HardwareReviewed {
  const old = new Map(before.map(item => [item.id, item]));
  const now = new Map(after.map(item => [item.id, item]));
  const changes: HardwareChange[] = [];
  const reasons: Reason[] = [];
  for (const id of new Set([...old.keys(), ...now.keys()])) {
    const [was, is] = [old.get(id), now.get(id)];
    const words = {
      before: was === undefined ? null : hardwareWords(was),
      after: is === undefined ? null : hardwareWords(is),
    };
    if (words.before === words.after) continue;
    changes.push({
      id,
      change: was === undefined ? 'added' : is === undefined ? 'removed' : 'changed',
      ...words,
    });
    const text = `Hardware '${id}': ${words.before ?? 'none'} → ${words.after ?? 'none'}.`;
    const otherSize =
      was !== undefined &&
      is !== undefined &&
      (was.size !== is.size || was.standard !== is.standard || was.across_mm !== is.across_mm);
    reasons.push(reason(otherSize ? 'hardware-other' : 'hardware-changed', text));
  }
  return { changes, reasons };
}

/** `Clamping screw, M3 × 10, 1 piece`; what it measures across, where that is stated. */
export function hardwareWords({
  title,
  size,
  standard,
  across_mm,
  quantity,
  unit = 'piece',
}: Hardware): string {
  const count =
    unit === 'piece' ? `${quantity} ${quantity === 1 ? 'piece' : 'pieces'}` : `${quantity} ${unit}`;
  const across = across_mm === undefined ? '' : `${across_mm} mm across`;
  return [title, [standard, size].filter(Boolean).join(' '), across, count].filter(Boolean).join(', ');
}
