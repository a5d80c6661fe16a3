// Where words stand that say something of what is dragged: beside it, and on a telephone out of its way.

import { reachOf } from './pieces.js';
import { meet } from './words.js';

/** @typedef {import('./words.js').Box} Box */

const NARROW = 500; // pixels of a stage on which words beside a piece would lie over its neighbours, or under the thumb
const RIM = 4; // pixels
const GAP = 10; // pixels from words to what they are about
const THUMB = 45; // pixels that a thumb covers to either side of what it touches; below that all is under the hand

/**
 * Whether a stage is that of a telephone.
 * @param {HTMLElement} stage
 */
export function narrow(stage) {
  return stage.clientWidth < NARROW;
}

/**
 * Puts words beside boxes of the stage: above or below them, to their right or left, wherever they cover least of them,
 * and where they were if that is as good. On a telephone they go to the top of the stage; where they would cover there what they
 * are about, what is near it or the thumb, above the stage, over its tools, or else to its foot.
 * @param {HTMLElement} el
 * @param {Box[]} boxes
 * @param {Box[]} near what lies round them
 * @param {{x: number, y: number}|null} thumb where it touches the stage
 * @param {HTMLElement} stage
 * @param {number} was the place before
 */
export function beside(el, boxes, near, thumb, stage, was) {
  const small = narrow(stage);
  el.classList.toggle('wide', small);
  const [left, top] = [Math.min(...boxes.map((b) => b.left)), Math.min(...boxes.map((b) => b.top))];
  const box = { left, top, right: Math.max(...boxes.map((b) => b.right)), bottom: Math.max(...boxes.map((b) => b.bottom)) };
  const [w, t] = [el.offsetWidth, el.offsetHeight];
  const seen = stage.getBoundingClientRect();
  // On a telephone the panel lies over the foot of the stage.
  const picked = document.getElementById('picked');
  const panel = picked?.checkVisibility({ visibilityProperty: true }) ? picked.getBoundingClientRect() : null;
  const over = panel && panel.left < seen.right && panel.top < seen.bottom && panel.right > seen.left;
  const [right, foot] = [stage.clientWidth - RIM, Math.min(stage.clientHeight, over ? panel.top - seen.top : Infinity) - RIM];
  const within = (/** @type {number} */ v, /** @type {number} */ most) => Math.max(RIM, Math.min(v, most));
  /** @type {number[][]} */
  let places;
  let clear = boxes;
  if (small) {
    const head = Math.max(RIM, RIM - seen.top); // the page may be scrolled
    places = [[RIM, head], [RIM, -t - RIM], [RIM, foot - t]].map(([px, py], i) => (i === 1 && seen.top < t + 2 * RIM ? [px, head] : [px, py]));
    clear = [...boxes, ...near, ...(thumb ? [{ left: thumb.x - THUMB, top: thumb.y - THUMB / 2, right: thumb.x + THUMB, bottom: stage.clientHeight }] : [])];
  } else {
    const x = within((box.left + box.right - w) / 2, right - w);
    const y = within((box.top + box.bottom - t) / 2, foot - t);
    places = [[x, box.top - GAP - t], [x, box.bottom + GAP], [box.right + GAP, y], [box.left - GAP - w, y]].map(([px, py]) => [within(px, right - w), within(py, foot - t)]);
  }
  const hides = places.map(([px, py]) => clear.reduce((sum, b) => sum + shared(b, { left: px, top: py, right: px + w, bottom: py + t }), 0));
  const least = Math.min(...hides);
  const side = hides[was] <= least ? was : hides.indexOf(least);
  const [px, py] = places[side];
  // Above the stage nothing of it is seen, but over the page it is.
  const above = py < 0;
  el.classList.toggle('above', above);
  el.style.transform = `translate(${Math.round(px + (above ? seen.left : 0))}px, ${Math.round(py + (above ? seen.top : 0))}px)`;
  return side;
}

/**
 * Where other pieces are on the stage that come so near to the ghost, in pixels.
 * @param {import('./hand.js').Hand} hand
 * @param {number} within
 */
export function neighbours({ ghost, pieces, picture }, within) {
  const { camera, state } = picture;
  const own = new Set(ghost.map((p) => p.id));
  const round = (/** @type {{kind: number, at: import('./types.js').Point}} */ p, /** @type {number} */ rim) => {
    const [at, r] = [camera.pixel(picture.board(p.at)), reachOf(state.kinds[p.kind]) * camera.scale + rim];
    return { left: at.x - r, top: at.y - r, right: at.x + r, bottom: at.y + r };
  };
  const about = ghost.map((p) => round(p, within));
  return pieces.here().filter((p) => !own.has(p.id)).map((p) => round(p, 0)).filter((b) => about.some((a) => meet(a, b)));
}

/**
 * How much of each other two boxes cover.
 * @param {Box} a
 * @param {Box} b
 */
function shared(a, b) {
  return meet(a, b) ? (Math.min(a.right, b.right) - Math.max(a.left, b.left)) * (Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top)) : 0;
}
