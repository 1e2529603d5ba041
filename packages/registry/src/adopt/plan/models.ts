import { nameWords, plainName } from '../judge/name-words.ts';
import { stem } from './names.ts';

/** Which models belong to a part. */
export interface ModelMatch {
  readonly models: readonly string[];
  /** Told by the beginning of the name alone. */
  readonly loose: boolean;
}

/**
 * Finds the models of a mesh by name: first those of the same name, whatever the folder and the ending; else those
 * whose name is the beginning of the mesh's, as one model often makes a left and a right mesh, or several sizes.
 *
 * @param all models that may belong to it
 */
export function modelsOf(mesh: string, all: readonly string[]): ModelMatch {
  const own = bare(mesh);
  const same = all.filter(model => bare(model) === own);
  if (same.length > 0) return { models: nearest(mesh, same), loose: false };
  const beginnings = all.filter(model => own.startsWith(`${bare(model)} `) && bare(model) !== '');
  const longest = Math.max(0, ...beginnings.map(model => bare(model).length));
  return {
    models: nearest(
      mesh,
      beginnings.filter(model => bare(model).length === longest),
    ),
    loose: true,
  };
}

/** Of models of one name, those in the mesh's own folder go before all others. */
function nearest(mesh: string, models: readonly string[]): string[] {
  const folder = mesh.slice(0, mesh.lastIndexOf('/') + 1);
  const own = models.filter(model => model.slice(0, model.lastIndexOf('/') + 1) === folder);
  return [...(own.length > 0 ? own : models)];
}

/** The words of the name, without what marks a version. */
function bare(path: string): string {
  const name = `${stem(path)}.x`;
  return nameWords(name, 0).versionPattern ?? plainName(name);
}
