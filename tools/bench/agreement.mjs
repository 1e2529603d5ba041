// A fast wrong answer is no answer: every engine's figures are held against ours.

/** Sentences about answers that do not agree; none is the hoped-for case. */
export function disagreements(results) {
  const doubts = [];
  for (const ours of results.filter(r => r.role === 'ours' && r.failed === undefined)) {
    const { max, error } = ours.answer;
    // A bound that says nothing costs nothing: it must be tight to count as an answer.
    if (error !== undefined && error > Math.max(0.001, max / 100))
      doubts.push(`${ours.size}, ${ours.title}: the maximum ${max} is only proven within ${error}.`);
    for (const peer of results.filter(
      r => r.role === 'peer' && r.failed === undefined && r.title === ours.title && r.size === ours.size,
    )) {
      for (const [key, mine, theirs, slack] of figures(ours.answer, peer.answer)) {
        if (!(Math.abs(mine - theirs) <= slack))
          doubts.push(
            `${ours.size}, ${ours.title}: ${key} is ${mine} by kinprint, ${theirs} by ${peer.engine}.`,
          );
      }
    }
  }
  return doubts;
}

function* figures(ours, theirs) {
  for (const key of ['triangles', 'vertices', 'shells', 'genus']) {
    if (ours[key] !== undefined && theirs[key] !== undefined) yield [key, ours[key], theirs[key], 0];
  }
  // Printed with six decimals by some, summed in another order by all.
  for (const key of ['area', 'volume']) {
    if (ours[key] !== undefined && theirs[key] !== undefined)
      yield [key, ours[key], theirs[key], 1e-8 * Math.abs(ours[key]) + 1e-6];
  }
  // Vertex samples see at most the true maximum, which lies in [max, max + error].
  if (ours.error !== undefined && theirs.max > ours.max + ours.error + 1e-6)
    yield ['maximum distance', ours.max + ours.error, theirs.max, 0];
  // Within the tolerance that was asked for, ours calls surfaces the same where a bare boolean counts slivers.
  for (const key of ['added', 'removed']) {
    if (ours.verdict === 'reworked' && theirs[key] !== undefined)
      yield [key, ours[key] ?? NaN, theirs[key], 1e-3 * Math.abs(theirs[key]) + 0.05];
  }
}
