// Which piece is meant by a place near it: thin ones are hard to hit.

/** @typedef {import('./types.js').Point} Point */
/** @typedef {import('./types.js').Piece} Piece */
/** @typedef {import('./types.js').Kind} Kind */

/**
 * The distance of a place from a ring, mm; 0 within it.
 * @param {Point[]} ring
 * @param {Point} at
 */
function distance(ring, [x, y]) {
  let least = Infinity;
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = ring[j];
    const [bx, by] = ring[i];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
    const [dx, dy] = [bx - ax, by - ay];
    const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    least = Math.min(least, Math.hypot(x - ax - t * dx, y - ay - t * dy));
  }
  return inside ? 0 : least;
}

/**
 * The piece whose outline is nearest to a place of the face, and nearer than a distance in mm.
 * @param {Piece[]} pieces
 * @param {Kind[]} kinds
 * @param {Point} at
 * @param {number} within mm
 * @returns {Piece|null}
 */
export function nearest(pieces, kinds, at, within) {
  const reaches = kinds.map((k) => Math.max(0, ...k.outline.map(([x, y]) => Math.hypot(x, y))));
  let found = null;
  let least = within;
  for (const p of pieces) {
    const [dx, dy] = [at[0] - p.at[0], at[1] - p.at[1]];
    if (Math.hypot(dx, dy) > reaches[p.kind] + least) continue;
    // Turned back, as the outline of the kind is drawn: a heading turns clockwise.
    const turn = (p.heading * Math.PI) / 180;
    const [sin, cos] = [Math.sin(turn), Math.cos(turn)];
    const far = distance(kinds[p.kind].outline, [dx * cos - dy * sin, dx * sin + dy * cos]);
    if (far < least) [found, least] = [p, far];
  }
  return found;
}
