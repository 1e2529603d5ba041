import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseLfsPointer } from '../snapshot/lfs-pointer.ts';
import { pathBytes, pathText } from '../snapshot/path-text.ts';
import { batchAnswers } from './batch-answers.ts';
import { collector } from './collect.ts';
import { didYouMean, nearestNames } from './nearest.ts';
import { readAndClose } from '../snapshot/read-and-close.ts';
import type { GitObject } from './objects.ts';
import { parseTree } from './tree-object.ts';

const bytes = fc.uint8Array({ maxLength: 300 });

describe('parsers of what strangers wrote', () => {
  test('a path is the same bytes after being a text, and a text without lone surrogates is itself', () => {
    fc.assert(
      fc.property(bytes, path => {
        expect(Buffer.from(pathBytes(pathText(path))).equals(path)).toBe(true);
      }),
    );
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), text => {
        expect(pathText(pathBytes(text))).toBe(text);
      }),
    );
    expect(pathText(Buffer.from('aüb\xff', 'latin1'))).toBe('a\udcfcb\udcff');
  });

  test('tree objects: what git wrote is read, anything else is null or a list, never more', () => {
    const id = Buffer.alloc(20, 7);
    const line = (mode: string, name: string) => Buffer.concat([Buffer.from(`${mode} ${name}\0`), id]);
    const tree = Buffer.concat([
      line('100644', 'a b'),
      line('40000', 'd'),
      line('120000', 'l'),
      line('160000', 's'),
    ]);
    expect(
      parseTree(tree, 'sha1')?.map(item => [item.kind, Buffer.from(item.name).toString(), item.id]),
    ).toEqual(
      [
        ['file', 'a b'],
        ['folder', 'd'],
        ['link', 'l'],
        ['submodule', 's'],
      ].map(item => [...item, '07'.repeat(20)]),
    );
    expect(parseTree(Buffer.alloc(0), 'sha1')).toEqual([]);
    for (const wrong of [
      tree.subarray(0, -1),
      line('100644', ''),
      line('100644', 'a/b'),
      line('777', 'a'),
      Buffer.concat([line('100644', 'a'), line('40000', 'a')]),
    ])
      expect(parseTree(wrong, 'sha1')).toBe(null);
    fc.assert(
      fc.property(bytes, fc.constantFrom('sha1' as const, 'sha256' as const), (some, format) => {
        const items = parseTree(some, format);
        expect(items === null || items.length <= some.length / 23).toBe(true);
      }),
    );
  });

  test('pointers: only the documented text is one', () => {
    const oid = 'ab'.repeat(32);
    const head = 'version https://git-lfs.github.com/spec/v1\n';
    expect(parseLfsPointer(Buffer.from(`${head}oid sha256:${oid}\nsize 12345\n`))).toEqual({
      oid,
      size: 12345,
    });
    expect(
      parseLfsPointer(Buffer.from(`${head}ext-0-x sha256:${'0'.repeat(64)}\noid sha256:${oid}\nsize 0\n`)),
    ).toEqual({ oid, size: 0 });
    for (const other of [
      '',
      head,
      `${head}oid sha256:../../x\nsize 1\n`,
      `x${head}oid sha256:${oid}\nsize 1\n`,
      `${head}oid sha256:${oid}\nsize -1\n`,
    ])
      expect(parseLfsPointer(Buffer.from(other))).toBe(null);
    fc.assert(
      fc.property(bytes, some => {
        expect(parseLfsPointer(some)).toBe(null);
      }),
    );
  });

  test("git's answers are read however they are cut", () => {
    const contents = ['', 'a', 'line\nline\n', 'x missing\n', 'blob 5\nabcde\n'];
    const stream = Buffer.from(
      contents
        .map(
          (content, i) =>
            `${String(i).repeat(40)} blob ${content.length}\n${content}\n${'f'.repeat(40)} missing\n`,
        )
        .join(''),
    );
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 1 }), cuts => {
        const objects: GitObject[] = [];
        const answers = batchAnswers(
          size => collector(size, '/nowhere', 1000),
          object => objects.push(object),
        );
        for (let at = 0, i = 0; at < stream.length; at += cuts[i++ % cuts.length])
          answers.take(stream.subarray(at, at + cuts[i % cuts.length]));
        const texts = objects.map(object =>
          object.state === 'found' ? Buffer.from(readAndClose(object.content)).toString() : object.state,
        );
        expect(texts).toEqual(contents.flatMap(content => [content, 'missing']));
      }),
    );
    const answers = batchAnswers(
      () => collector(0, '/nowhere', 0),
      () => undefined,
    );
    expect(() => answers.take(Buffer.from('rubbish of a line\n'))).toThrow('unknown line');
  });

  test('names that were meant', () => {
    const names = ['main', 'rev-A', 'rev-B', 'release-2024', 'shell.stl', 'shell-left.stl'];
    expect(nearestNames('rev-a', names)).toEqual(['rev-A', 'rev-B']);
    expect(nearestNames('shel.stl', names)).toEqual(['shell.stl']);
    expect(nearestNames('master', names)).toEqual([]);
    expect(nearestNames('', names)).toEqual([]);
    expect(didYouMean(['a', 'b'])).toBe("Did you mean 'a' or 'b'? ");
  });
});
