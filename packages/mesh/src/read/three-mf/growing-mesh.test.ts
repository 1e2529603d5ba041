import { describe, expect, it } from 'vitest';
import { growingMesh } from './growing-mesh.ts';

describe('a growing mesh', () => {
  it('gives vertices and triangles in their order, however many', () => {
    const mesh = growingMesh();
    for (let i = 0; i < 1000; i++) mesh.addVertex(i, -i, i / 2);
    for (let i = 0; i < 998; i++) mesh.addTriangle(i, i + 1, i + 2);
    const { positions, triangles } = mesh.finish();
    expect([positions.length, triangles.length]).toEqual([3000, 2994]);
    expect([...positions.slice(-3)]).toEqual([999, -999, 499.5]);
    expect([...triangles.slice(-3)]).toEqual([997, 998, 999]);
  });

  it('drops vertices that no triangle uses, so that placing an object does not walk them', () => {
    const mesh = growingMesh();
    for (let i = 0; i < 100_000; i++) mesh.addVertex(i, 0, 0);
    mesh.addTriangle(70_000, 5, 900);
    mesh.addTriangle(900, 5, 99_999);
    const { positions, triangles } = mesh.finish();
    expect([...positions]).toEqual([5, 0, 0, 900, 0, 0, 70_000, 0, 0, 99_999, 0, 0]);
    expect([...triangles]).toEqual([2, 0, 1, 1, 0, 3]);
  });

  it('is empty without triangles', () => {
    const mesh = growingMesh();
    mesh.addVertex(1, 2, 3);
    expect(mesh.vertexCount()).toBe(1);
    expect(mesh.finish().positions.length).toBe(0);
  });
});
