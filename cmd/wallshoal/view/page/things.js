// Things on the wall that the picture has no room to name, like light switches: their names stand beside them where that covers
// nothing, and else come when they are pointed at, tapped or reached by Tab.

import { h } from './dom.js';
import { meet } from './words.js';

/** @typedef {import('./words.js').Box} Box */
/** @typedef {import('./types.js').Thing} Thing */
/** @typedef {{el: HTMLElement, thing: Thing, box: Box, long: number, high: number}} Shown box: in the picture's own measures; long, high: the size of its name */

const LEAST = 24; // pixels of what can be pointed at (WCAG 2.2, 2.5.8)
const GAP = 4; // pixels from a thing to its name
const READS = 6; // pixels that letters are at least, to be read
const PAUSE = 300; // ms that the picture rests until its words are read

export class Things {
  /**
   * @param {HTMLElement} layer
   * @param {import('./picture.js').Picture} picture
   * @param {import('./pieces.js').Pieces} pieces
   * @param {import('./words.js').Words} lettering
   */
  constructor(layer, picture, pieces, lettering) {
    this.picture = picture;
    this.pieces = pieces;
    this.lettering = lettering;
    this.box = h('div', { class: 'things', role: 'group', 'aria-label': 'what is on the wall' });
    layer.append(this.box);
    /** @type {Shown[]} */
    this.all = [];
    this.of = '';
    this.timer = 0;
    /** @type {Box[]} where pieces hang, in the picture's own measures: their codes are within */
    this.hung = [];
    picture.addEventListener('shown', () => this.draw());
    picture.addEventListener('face', () => this.clear());
    picture.camera.addEventListener('look', () => this.settle());
    lettering.addEventListener('read', () => this.settle());
  }

  clear() {
    this.all = [];
    this.of = '';
    this.box.replaceChildren();
  }

  draw() {
    const things = this.picture.shownFace()?.things || [];
    this.hung = things.length > 0 ? this.pieces.here().map((p) => this.around(p)) : [];
    const of = JSON.stringify([this.picture.face, things]);
    if (of !== this.of) {
      this.clear();
      this.of = of;
      const { picture } = this;
      this.all = things.map((thing) => {
        const el = h('span', { class: 'thing', role: 'img', 'aria-label': thing.name }, h('span', { class: 'name', text: thing.name, 'aria-hidden': 'true' }));
        this.box.append(el);
        // What Tab leads to may lie outside of what is seen.
        el.addEventListener('focus', () => { if (el.matches(':focus-visible')) picture.camera.reveal({ x: (box.left + box.right) / 2, y: (box.top + box.bottom) / 2 }); });
        const name = /** @type {HTMLElement} */ (el.firstChild);
        const at = thing.outline.map((p) => this.picture.board(p));
        const [xs, ys] = [at.map((p) => p.x), at.map((p) => p.y)];
        const box = { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
        return { el, thing, box, long: name.offsetWidth, high: name.offsetHeight };
      });
    }
    clearTimeout(this.timer);
    if (things.length > 0) this.timer = window.setTimeout(() => this.lettering.read(), PAUSE);
    this.settle();
  }

  /** Those that the picture names, each by the text nearest to it, and how many pixels high its letters are. */
  named() {
    const { width, scale } = this.picture.camera;
    /** @type {Map<Shown, number>} */
    const named = new Map();
    for (const word of this.lettering.all || []) {
      if (word.near > width * scale) continue;
      const called = this.all.filter(({ thing }) => thing.name === word.text || thing.name.startsWith(`${word.text} `)) // or the first of its lines
        .sort((a, b) => far(a.box, word) - far(b.box, word));
      if (called.length > 0) named.set(called[0], word.size * scale);
    }
    return named;
  }

  /** Puts the elements where the things are seen, and the names where there is room. */
  settle() {
    if (this.all.length === 0) return;
    const { camera } = this.picture;
    const named = this.named();
    const { clientWidth: wide, clientHeight: tall } = camera.stage;
    const scaled = (/** @type {Box} */ b) => ({ left: camera.x + b.left * camera.scale, top: camera.y + b.top * camera.scale, right: camera.x + b.right * camera.scale, bottom: camera.y + b.bottom * camera.scale });
    const seen = this.all.map(({ box }) => scaled(box));
    const taken = [...seen, ...this.pins(), ...this.hung.map(scaled)];
    this.all.forEach(({ el, long, high }, i) => {
      const b = seen[i];
      const letters = named.get(this.all[i]) || 0;
      const told = letters >= READS;
      el.classList.toggle('told-of', told);
      if (told) el.removeAttribute('tabindex');
      else el.tabIndex = 0;
      const [w, t] = [Math.max(b.right - b.left, LEAST), Math.max(b.bottom - b.top, LEAST)];
      const [x, y] = [(b.left + b.right) / 2, (b.top + b.bottom) / 2];
      Object.assign(el.style, { width: `${w}px`, height: `${t}px`, transform: `translate(${x - w / 2}px, ${y - t / 2}px)` });
      const box = (/** @type {number} */ left, /** @type {number} */ top) => ({ left, top, right: left + long, bottom: top + high });
      /** @type {[number, number][]} */
      const places = [[b.right + GAP, y - high / 2], [b.left - GAP - long, y - high / 2],
        ...[b.top - GAP - high, b.bottom + GAP].flatMap((py) => [x - long / 2, b.left, b.right - long].map((px) => /** @type {[number, number]} */ ([px, py])))];
      const within = places.map(([px, py]) => box(px, py)).map((p) => p.left >= 0 && p.top >= 0 && p.right <= wide && p.bottom <= tall);
      const free = letters > 0 ? -1 : places.findIndex(([px, py], n) => within[n] && taken.every((o) => !meet(box(px, py), o)) && this.lettering.clear(box(px, py)));
      el.classList.toggle('named', free >= 0);
      const [px, py] = places[free >= 0 ? free : Math.max(0, within.indexOf(true))];
      /** @type {HTMLElement} */ (el.firstChild).style.transform = `translate(${px - (x - w / 2)}px, ${py - (y - t / 2)}px)`;
      if (free >= 0) taken.push(box(px, py));
    });
  }

  /** Where the handles of places and their names are, on the stage. */
  pins() {
    const stage = this.picture.camera.stage.getBoundingClientRect();
    return [...document.querySelectorAll('#marks .pin.named .name, #marks .pin .dot')].map((el) => {
      const r = el.getBoundingClientRect();
      return { left: r.left - stage.left, top: r.top - stage.top, right: r.right - stage.left, bottom: r.bottom - stage.top };
    });
  }

  /**
   * The box round a piece.
   * @param {import('./types.js').Piece} p
   */
  around(p) {
    const at = this.picture.board(p.at);
    const turn = (p.heading * Math.PI) / 180;
    const [sin, cos] = [Math.sin(turn), Math.cos(turn)];
    const { outline } = this.picture.state.kinds[p.kind];
    const xs = outline.map(([x, y]) => at.x + x * cos + y * sin);
    const ys = outline.map(([x, y]) => at.y + x * sin - y * cos);
    return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
  }
}

/**
 * How far apart two boxes are.
 * @param {Box} a
 * @param {Box} b
 */
function far(a, b) {
  return Math.hypot(Math.max(0, a.left - b.right, b.left - a.right), Math.max(0, a.top - b.bottom, b.top - a.bottom));
}
