import { expect, test } from 'vitest';
import { modelsOf } from './models.ts';

const models = [
  'cad/shell.scad',
  'cad/shell.step',
  'clip/clip.blend',
  'old/clip.blend',
  'cad/shell big.scad',
];

test.each([
  ['stl/Shell.stl', ['cad/shell.scad', 'cad/shell.step'], false],
  ['stl/shell_v2.stl', ['cad/shell.scad', 'cad/shell.step'], false],
  ['stl/shell-left.stl', ['cad/shell.scad', 'cad/shell.step'], true],
  ['stl/shell-big-left.stl', ['cad/shell big.scad'], true],
  ['clip/clip.stl', ['clip/clip.blend'], false],
  ['stl/shellfish.stl', [], true],
  ['stl/other.stl', [], true],
])('models of %s', (mesh, found, loose) => {
  expect(modelsOf(mesh, models)).toEqual({ models: found, loose });
});
