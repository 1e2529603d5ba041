import { createHash } from 'node:crypto';
import { decode } from 'fast-png';
import type { Mesh } from '@kinprint/mesh';
import { drawPart, drawRequest, type DrawRequest, type PartDrawing, type Undrawn } from '@kinprint/report';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bundleWorker, removeWorker } from '../../packages/registry/src/testing/bundle-worker.ts';
import { openDrawers } from '../../packages/report/src/drawing/open-drawers.ts';
import { box } from '../support/meshes.ts';
import { changedPart, sampleVariant } from '../support/review-samples.ts';

let built: URL;
beforeAll(async () => {
  built = await bundleWorker('packages/report/src/drawing/drawer.ts');
});
afterAll(removeWorker);

async function changed(id: string, before: Mesh, after: Mesh): Promise<DrawRequest> {
  const { part, shapes } = await changedPart(id, id, before, after);
  if (shapes === null || shapes.kind === 'fault') throw new Error('The sample was compared.');
  return drawRequest(sampleVariant([part]), part, shapes, true);
}

const alone = (id: string, mesh: Mesh): DrawRequest => ({
  subject: { kind: 'alone', title: id, side: 'after', mesh },
  detailed: true,
});

/** A mesh as it cannot be: drawing it fails. */
const broken = alone('broken', { triangles: new Uint32Array(3) } as unknown as Mesh);

function digest(drawing: PartDrawing | Undrawn): string {
  if (drawing.kind === 'undrawn') return drawing.reason;
  const hash = createHash('sha256');
  for (const { png } of [drawing.small, drawing.large]) hash.update(png);
  return hash.update(JSON.stringify(drawing.surfaces)).digest('hex');
}

describe('drawing in threads', () => {
  test('gives the bytes that drawing here gives, whoever comes first', async () => {
    const requests = [
      await changed('shell', box(20, 30, 10), box(20, 30, 12)),
      alone('pad', box(18, 30, 2)),
      await changed('key', box(10, 20, 5), box(10, 20, 5, [30, 4, 2])),
      alone('lid', box(8, 8, 1)),
    ];
    const here = requests.map(request => digest(drawPart(request)));
    const drawers = openDrawers({ parts: 4, drawer: built, threads: 2 });
    try {
      const apart = await Promise.all(requests.map(request => drawers.draw(request)));
      expect(apart.map(digest)).toEqual(here);
      const large = (apart[0] as PartDrawing).large;
      const { width, height } = decode(large.png);
      expect([width, height]).toEqual([large.width, large.height]);
    } finally {
      await drawers.close();
    }
  }, 120_000);

  test('a part that fails or takes too long is told, and the others are drawn', async () => {
    const whole = alone('pad', box(18, 30, 2));
    let limit_ms = 60_000;
    const drawers = openDrawers({ parts: 4, drawer: built, threads: 1, timeLimit_ms: () => limit_ms });
    try {
      const drawn = await drawers.draw(whole);
      expect(await drawers.draw(broken)).toMatchObject({
        kind: 'undrawn',
        reason: expect.stringMatching(/^drawing it failed by a fault of the program: /) as string,
      });
      limit_ms = 0;
      expect(await drawers.draw(whole)).toEqual({
        kind: 'undrawn',
        reason: 'drawing it took longer than 0 s',
      });
      limit_ms = 60_000;
      expect(digest(await drawers.draw(whole))).toBe(digest(drawn));
    } finally {
      await drawers.close();
    }
  }, 120_000);

  test('without threads it is the same', async () => {
    const drawers = openDrawers({ parts: 2, drawer: null });
    const whole = alone('pad', box(18, 30, 2));
    expect(digest(await drawers.draw(whole))).toBe(digest(drawPart(whole)));
    expect((await drawers.draw(broken)).kind).toBe('undrawn');
    await drawers.close();
  });
});
