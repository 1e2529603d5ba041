/** The dashes of a line: its pieces of `dash` px with gaps of `gap` px between, from its beginning on. */
export function dashes(line: readonly number[], [dash, gap]: readonly [number, number]): number[][] {
  const out: number[][] = [];
  let left = dash;
  let drawing = true;
  let piece = [line[0], line[1]];
  for (let k = 2; k < line.length; k += 2) {
    let [x, y] = [line[k - 2], line[k - 1]];
    const [tx, ty] = [line[k], line[k + 1]];
    let length = Math.sqrt((tx - x) ** 2 + (ty - y) ** 2);
    while (length > left) {
      const t = left / length;
      x += t * (tx - x);
      y += t * (ty - y);
      length -= left;
      if (drawing) out.push([...piece, x, y]);
      piece = [x, y];
      drawing = !drawing;
      left = drawing ? dash : gap;
    }
    left -= length;
    if (drawing) piece.push(tx, ty);
  }
  if (drawing && piece.length > 2) out.push(piece);
  return out;
}
