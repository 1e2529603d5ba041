import type { AssemblyPicture } from './assembly-picture.ts';
import type { Camera } from './camera.ts';
import type { ChangePicture } from './change-picture.ts';
import type { ChangeSubject } from './change-subject.ts';
import type { PartPicture } from './part-picture.ts';
import type { PartsPicture } from './parts-picture.ts';
import { clean, plural } from '../terminal/words.ts';
import { dimensionText } from './dimensions.ts';

export type PictureFormat = 'png' | 'svg';

/** What was drawn: one part, several, several put together, or a change. */
export type Drawn =
  | { readonly kind: 'part'; readonly name: string; readonly picture: PartPicture }
  | {
      readonly kind: 'parts';
      readonly name: string;
      readonly picture: PartsPicture;
      readonly parts: readonly string[];
    }
  | {
      readonly kind: 'assembly';
      readonly name: string;
      readonly picture: AssemblyPicture;
      /** Names of the placed copies, and of the parts without a place. */
      readonly placed: readonly string[];
      readonly unplaced: readonly string[];
    }
  | { readonly kind: 'change'; readonly subject: ChangeSubject; readonly picture: ChangePicture };

/** `kinprint picture --json`. */
export function pictureJson(file: string, format: PictureFormat, drawn: Drawn): object {
  const { sheet } = drawn.picture;
  return {
    schema: 'kinprint:output/picture/1',
    file,
    format,
    width_px: sheet.width,
    height_px: sheet.height,
    ...ofKind(drawn),
    description: sheet.description,
  };
}

function ofKind(drawn: Drawn): object {
  const scale_bar_mm = drawn.picture.scaleBar_mm;
  switch (drawn.kind) {
    case 'part': {
      const { camera, size_mm } = drawn.picture;
      return { kind: 'part', name: drawn.name, views: [view(camera)], scale_bar_mm, size_mm };
    }
    case 'parts': {
      const { name, parts, picture } = drawn;
      return { kind: 'parts', name, parts, views: [view(picture.camera)], scale_bar_mm };
    }
    case 'assembly': {
      const { name, placed, unplaced, picture } = drawn;
      const { camera, size_mm } = picture;
      return { kind: 'assembly', name, placed, unplaced, views: [view(camera)], scale_bar_mm, size_mm };
    }
    case 'change': {
      const { subject, picture } = drawn;
      return {
        kind: 'change',
        before: subject.before,
        after: subject.after,
        verdict: subject.comparison.verdict,
        views: picture.cameras.map(view),
        scale_bar_mm,
        enlarged: picture.enlarged,
        call_outs: picture.callOuts,
        deviation_limit_mm: picture.deviationLimit_mm,
      };
    }
  }
}

function view({ direction, toward, pixelsPerMm }: Camera): object {
  return { from: direction.name, toward, pixels_per_mm: pixelsPerMm };
}

/** What was written, in lines for a terminal. */
export function pictureText(file: string, drawn: Drawn): string {
  const { sheet } = drawn.picture;
  const lines = [`${clean(file)}  ${sheet.width} × ${sheet.height}`];
  switch (drawn.kind) {
    case 'part': {
      const { camera, size_mm } = drawn.picture;
      lines.push(`  seen from the ${camera.direction.name}`);
      lines.push(`  ${size_mm === null ? 'no faces' : `${size_mm.map(dimensionText).join(' × ')} mm`}`);
      break;
    }
    case 'parts':
      lines.push(`  ${plural(drawn.parts.length, 'part')}: ${drawn.parts.map(clean).join(', ')}`);
      break;
    case 'assembly':
      lines.push(`  put together: ${drawn.placed.map(clean).join(', ')}`);
      if (drawn.unplaced.length > 0) lines.push(`  not placed: ${drawn.unplaced.map(clean).join(', ')}`);
      break;
    case 'change':
      lines.push(`  ${drawn.subject.comparison.verdict}`);
      for (const { number, what, amount } of drawn.picture.callOuts)
        lines.push(`  ${number}  ${what}; ${amount}`);
  }
  return lines.join('\n');
}
