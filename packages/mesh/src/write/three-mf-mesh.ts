import { InputError } from '../error.ts';
import type { Mesh } from '../types.ts';

/** Lines gathered in one piece of text. */
const linesPerPiece = 4096;

/**
 * The `mesh` element of a 3MF object, in pieces of text.
 *
 * @param millimeters in the unit to write; coordinates are divided by it.
 * @throws {InputError} `3mf-empty`, `3mf-range`; see `writeThreeMf`.
 */
export function meshXml(mesh: Mesh, millimeters: number): string[] {
  const { positions, triangles } = mesh;
  const pieces = ['   <mesh>\n    <vertices>\n'];
  let lines = '';
  let count = 0;
  const flush = () => {
    pieces.push(lines);
    lines = '';
  };
  for (let i = 0; i < positions.length; i += 3) {
    const x = decimal(positions[i] / millimeters);
    const y = decimal(positions[i + 1] / millimeters);
    lines += `     <vertex x="${x}" y="${y}" z="${decimal(positions[i + 2] / millimeters)}"/>\n`;
    if (++count % linesPerPiece === 0) flush();
  }
  lines += '    </vertices>\n    <triangles>\n';
  let faces = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i], triangles[i + 1], triangles[i + 2]];
    if (a === b || b === c || c === a) continue;
    faces++;
    lines += `     <triangle v1="${a}" v2="${b}" v3="${c}"/>\n`;
    if (++count % linesPerPiece === 0) flush();
  }
  if (faces === 0) throw new InputError('3mf-empty', 'an object has no faces', 'Leave it out.');
  lines += '    </triangles>\n   </mesh>\n';
  flush();
  return pieces;
}

/** Shortest text that reads back as the same double; ST_Number allows what JavaScript prints. */
function decimal(value: number): string {
  if (!Number.isFinite(value))
    throw new InputError('3mf-range', 'a coordinate is not finite', 'Mend the mesh first.');
  return String(value);
}
