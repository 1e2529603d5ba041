/** The records of git's `-z` output, which a zero byte ends; the last may lack it. */
export function nulRecords(bytes: Buffer): Buffer[] {
  const records: Buffer[] = [];
  for (let at = 0; at < bytes.length;) {
    const found = bytes.indexOf(0, at);
    const end = found < 0 ? bytes.length : found;
    records.push(bytes.subarray(at, end));
    at = end + 1;
  }
  return records;
}
