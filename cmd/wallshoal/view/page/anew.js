// That the work was laid anew where hands had been at it, in words: what is laid anew differs from what was there, also
// once a knob is where it was before.

import { counted } from './dom.js';

/** @typedef {import('./types.js').State} State */

/**
 * What to say after the plan was changed: nothing, where no piece is elsewhere or no hand was at the work.
 * @param {State} before
 * @param {State} after
 */
export function laidAnew(before, after) {
  const locked = after.pieces.filter((p) => p.locked).length;
  if (!after.laid || before.laid && locked === 0 || alike(before.pieces, after.pieces)) return '';
  const what = locked > 0
    ? `The rest was laid anew round the ${locked === 1 ? 'piece' : counted(locked, 'piece')} you set by hand.`
    : 'All was laid anew, without what you did by hand.';
  return `${what} Turning back would lay it anew again; Undo brings back exactly what was.`;
}

/**
 * Whether pieces are the same, each at its place.
 * @param {import('./types.js').Piece[]} a
 * @param {import('./types.js').Piece[]} b
 */
export function alike(a, b) {
  return a.length === b.length && a.every((p, i) => {
    const q = b[i];
    return p.id === q.id && p.kind === q.kind && p.face === q.face && p.at[0] === q.at[0] && p.at[1] === q.at[1] && p.heading === q.heading;
  });
}
