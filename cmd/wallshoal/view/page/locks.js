// The marks of pieces that are locked.

import { s } from './dom.js';

/**
 * A lock at the end of a piece: over its middle it would hide it.
 * @param {{x: number, y: number}} at
 * @param {import('./types.js').Point[]} outline of its kind
 * @param {number} heading
 * @param {number} scale pixels for each mm: small pieces keep a lock that is seen
 */
export function padlock(at, outline, heading, scale) {
  const far = outline.map(([px, py]) => Math.hypot(px, py));
  const reach = Math.max(1, ...far);
  const [x, y] = outline[far.indexOf(reach)] || [0, reach];
  const turn = (heading * Math.PI) / 180;
  const k = Math.min(Math.max(reach * 0.09, 3.4 / scale), 7 / scale);
  const out = 1 + k / Math.max(reach, k);
  const [dx, dy] = [(x * Math.cos(turn) + y * Math.sin(turn)) * out, (y * Math.cos(turn) - x * Math.sin(turn)) * out];
  return s('g', { transform: `translate(${at.x + dx} ${at.y - dy}) scale(${k})` }, ...parts());
}

function parts() {
  return [s('path', { class: 'shackle', d: 'M-0.55,0V-0.5A0.55,0.55 0 0 1 0.55,-0.5V0' }), s('rect', { x: -0.9, y: -0.1, width: 1.8, height: 1.3, rx: 0.15 })];
}

/** A lock within a line of words. */
export function lockSign() {
  return s('svg', { class: 'locks sign', viewBox: '-1.3 -1.4 2.6 2.9', 'aria-hidden': 'true' }, ...parts());
}
