/** Gives every thing of a document its SPDX identifier: letters, digits, `.` and `-` (SPDX 2.3, clauses 7.2, 8.2), each once. */
export function spdxIds(): (kind: 'Package' | 'File', name: string) => string {
  const taken = new Set<string>();
  return (kind, name) => {
    const plain = `SPDXRef-${kind}-${name.replace(/[^A-Za-z0-9.-]+/g, '-')}`;
    let id = plain;
    for (let more = 2; taken.has(id); more += 1) id = `${plain}-${more}`;
    taken.add(id);
    return id;
  };
}
