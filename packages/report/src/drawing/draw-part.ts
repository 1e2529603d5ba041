import { changePicture } from '../pictures/change-picture.ts';
import { changeScene } from '../pictures/change-scene.ts';
import { partPicture } from '../pictures/part-picture.ts';
import { sheetPng } from '../pictures/png.ts';
import type { Sheet } from '../pictures/sheet.ts';
import { changeThumbnail, partThumbnail } from '../pictures/thumbnail.ts';
import type { DrawRequest, PartDrawing, Still } from './part-drawing.ts';
import { changeSurfaces, surfacesAlone } from './part-surfaces.ts';

/** Pixels. By eye, no source. */
const sizes = {
  small: { width: 216, height: 144 },
  change: { width: 1200, height: 848 },
  part: { width: 960, height: 640 },
  plain: { width: 480, height: 320 },
} as const;

/** Draws a part: the pictures of a page and of a text, and the geometry of a viewer. The same request gives the same bytes. */
export function drawPart({ subject, detailed }: DrawRequest): PartDrawing {
  switch (subject.kind) {
    case 'change': {
      const { change } = subject;
      const scene = changeScene(change);
      const small = stillOf(changeThumbnail(change, detailed ? sizes.small : sizes.plain, scene));
      const large = detailed ? stillOf(changePicture(change, sizes.change, scene).sheet) : small;
      return { kind: 'drawn', small, large, surfaces: changeSurfaces(change) };
    }
    case 'alone': {
      const { mesh, title, side } = subject;
      const small = stillOf(partThumbnail(mesh, title, detailed ? sizes.small : sizes.plain));
      const large = detailed ? stillOf(partPicture(mesh, title, sizes.part).sheet) : small;
      return { kind: 'drawn', small, large, surfaces: surfacesAlone(mesh, side) };
    }
  }
}

function stillOf(sheet: Sheet): Still {
  const { width, height, description } = sheet;
  return { png: sheetPng(sheet), width, height, description };
}
