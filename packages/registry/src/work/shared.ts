/**
 * Plain data with its typed arrays moved to memory that all threads see, so that sending it copies nothing. Arrays
 * that are there already are kept.
 */
export function shared<T>(data: T): T;
export function shared(data: unknown): unknown {
  if (ArrayBuffer.isView(data)) return sharedArray(data);
  if (Array.isArray(data)) return data.map(item => shared(item as unknown));
  if (typeof data !== 'object' || data === null) return data;
  return Object.fromEntries(Object.entries(data).map(([key, value]) => [key, shared(value as unknown)]));
}

const kinds: readonly (new (memory: SharedArrayBuffer) => ArrayBufferView)[] = [
  Float64Array,
  Float32Array,
  Uint32Array,
  Int32Array,
  Uint8Array,
];

function sharedArray(array: ArrayBufferView): ArrayBufferView {
  if (array.buffer instanceof SharedArrayBuffer) return array;
  const Kind = kinds.find(kind => array instanceof kind);
  if (Kind === undefined) return array;
  const memory = new SharedArrayBuffer(array.byteLength);
  new Uint8Array(memory).set(new Uint8Array(array.buffer, array.byteOffset, array.byteLength));
  return new Kind(memory);
}
