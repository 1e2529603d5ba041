import { describe, expect, it } from 'vitest';
import { bytesSource } from '../bytes.ts';
import { InputError } from '../error.ts';
import { kindOf } from './kind.ts';

const kind = (content: string | Uint8Array) =>
  kindOf(bytesSource(typeof content === 'string' ? new TextEncoder().encode(content) : content));

function codeOf(content: string | Uint8Array): string {
  try {
    return `no error but ${kind(content)}`;
  } catch (error) {
    if (error instanceof InputError) return error.code;
    throw error;
  }
}

function binary(head: string, facets: number, count = facets): Uint8Array {
  const bytes = new Uint8Array(84 + 50 * facets);
  new TextEncoder().encodeInto(head, bytes);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, count, true);
  for (let i = 0; i < facets; i++) view.setFloat32(84 + 50 * i + 24, 1, true);
  return bytes;
}

describe('kindOf', () => {
  it('tells the kinds apart by content', () => {
    expect(kind('solid a\nfacet normal 0 0 1')).toBe('stl-ascii');
    expect(kind('\ufeff \r\nSOLID a\nENDSOLID')).toBe('stl-ascii');
    expect(kind('ply\nformat ascii 1.0\n')).toBe('ply');
    expect(kind('ply\r\nformat ascii 1.0\r\n')).toBe('ply');
    expect(kind('# made by hand\n\nv 0 0 0\n')).toBe('obj');
    expect(kind('mtllib a.mtl\no part\n')).toBe('obj');
    expect(kind(Uint8Array.of(0x50, 0x4b, 3, 4, 0, 0))).toBe('3mf');
    expect(kind(binary('', 2))).toBe('stl-binary');
  });

  it('believes the size of a binary STL file more than its header', () => {
    for (const head of ['solid a\nfacet normal', 'ply\n', '# v', 'PK\x03\x04', '\xff\xfe']) {
      expect(kind(binary(head, 3))).toBe('stl-binary');
    }
  });

  it('takes binary STL with a wrong count for what it is', () => {
    expect(kind(binary('solid', 3, 0))).toBe('stl-binary');
    expect(kind(binary('solid facet ', 3, 5))).toBe('stl-binary');
    expect(kind(binary('', 0, 5))).toBe('stl-binary');
  });

  it('takes binary STL without a single NUL for what it is', () => {
    const bytes = new Uint8Array(84 + 50 * 4 + 10).fill(0x20);
    const view = new DataView(bytes.buffer);
    view.setUint32(80, 0x01010104, true);
    for (let i = 0; i < 4 * 12; i++)
      view.setUint32(84 + 50 * Math.floor(i / 12) + 4 * (i % 12), 0x41010101 + 7 * i, true);
    expect(bytes.includes(0)).toBe(false);
    expect(kind(bytes)).toBe('stl-binary');
  });

  it('takes text that is filled up with NUL or ends with Ctrl-Z', () => {
    expect(kind('solid a\nendsolid a\n\0\0\0')).toBe('stl-ascii');
    expect(kind('v 0 0 0\r\n\x1a')).toBe('obj');
  });

  it('refuses what is no mesh and says why', () => {
    expect(codeOf('')).toBe('empty-file');
    expect(codeOf('hello')).toBe('unknown-kind');
    expect(codeOf('solid as a rock, but no mesh')).toBe('unknown-kind');
    expect(codeOf('<html>'.repeat(100))).toBe('unknown-kind');
    expect(codeOf(Uint8Array.from({ length: 500 }, (_, i) => (i * 197) % 256))).toBe('unknown-kind');
    expect(() => kind('hello'.repeat(20))).toThrow(
      /neither STL .* nor OBJ nor PLY; as binary STL it would need/,
    );
  });

  it('names pointers, damage by merges and by treatment as text', () => {
    const pointer = 'version https://git-lfs.github.com/spec/v1\noid sha256:4d7a\nsize 12345\n';
    expect(codeOf(pointer)).toBe('lfs-pointer');
    expect(() => kind(pointer)).toThrow(/12345 bytes/);
    expect(codeOf('<<<<<<< ours\nsolid a\n=======\n')).toBe('conflict-marker');
    expect(codeOf('\ufeff'.repeat(1) + '# a\n\n<<<<<<< ours\nv 0 0 0\n')).toBe('conflict-marker');
    expect(codeOf(Uint8Array.of(0xff, 0xfe, 0x76, 0, 0x20, 0))).toBe('text-encoding');
    const damaged = new Uint8Array(400);
    for (let i = 84; i < 380; i += 7) damaged.set([0xef, 0xbf, 0xbd], i);
    expect(codeOf(damaged)).toBe('binary-as-text');
  });
});
