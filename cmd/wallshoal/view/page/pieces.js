// The pieces as outlines over the picture: to be seen, reached by Tab, and picked.

import { s } from './dom.js';
import { hungMark } from './hung.js';
import { padlock } from './locks.js';
import { nearest } from './nearest.js';
import { saidOf } from './told.js';
import { heading, place } from './units.js';

/** @typedef {import('./types.js').Piece} Piece */
/** @typedef {import('./types.js').Kind} Kind */
/** @typedef {import('./types.js').State} State */

/**
 * The path of a kind heading straight up, y down.
 * @param {Kind} kind
 */
export function pathOf(kind) {
  return kind.outline.map(([x, y], i) => `${i ? 'L' : 'M'}${x},${-y}`).join('') + 'Z';
}

/**
 * How far a kind reaches from its centre, mm.
 * @param {Kind} kind
 */
export function reachOf(kind) {
  return Math.max(1, ...kind.outline.map(([x, y]) => Math.hypot(x, y)));
}

/**
 * Events: `pick` after other pieces are picked, `drawn` after the outlines were drawn anew.
 */
export class Pieces extends EventTarget {
  /**
   * @param {HTMLElement} board
   * @param {import('./picture.js').Picture} picture
   */
  constructor(board, picture) {
    super();
    this.picture = picture;
    this.list = s('g', { class: 'pieces', role: 'group', 'aria-label': 'pieces on this face' });
    this.locks = s('g', { class: 'locks', 'aria-hidden': 'true' });
    this.over = s('g', { class: 'over' }); // what the tools draw
    this.svg = s('svg', { class: 'outlines' }, this.list, this.locks, this.over);
    board.append(this.svg);
    /** @type {Map<number, SVGPathElement>} */
    this.paths = new Map();
    /** @type {Set<number>} those that stay picked while another is */
    this.kept = new Set();
    /** @type {number|null} */
    this.current = null;
    picture.addEventListener('face', () => {
      this.svg.setAttribute('hidden', '');
      this.clear();
    });
    picture.addEventListener('shown', () => this.draw());
    picture.camera.addEventListener('look', () => this.lockAll());
    // Not on an element of the picture: a listener for focus would make a stop of it.
    board.addEventListener('focusin', (/** @type {FocusEvent} */ e) => {
      const id = this.idOf(e.target);
      if (this.pointed) return; // a click picks by itself
      if (id && !this.isPicked(id)) this.pick(id);
      // What Tab leads to may lie outside of what is seen.
      const piece = id && this.get(id);
      if (piece) picture.camera.reveal(picture.board(piece.at));
    });
    this.list.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => this.step(e));
    this.pointed = false;
    this.near = 0; // the piece that the pointer means
    for (const event of ['pointermove', 'pointerleave']) this.svg.addEventListener(event, (/** @type {PointerEvent} */ e) => this.hover(e));
  }

  /** @returns {State} */
  get state() {
    return this.picture.state;
  }

  /**
   * @param {number} id
   * @returns {Piece|undefined}
   */
  get(id) {
    return this.state.pieces.find((p) => p.id === id);
  }

  /** @param {EventTarget|null} el */
  idOf(el) {
    return el instanceof SVGElement ? Number(el.dataset.id) || 0 : 0;
  }

  /**
   * The piece that a pointer means: the one under it, or the nearest within its slack.
   * @param {PointerEvent} e
   */
  meant(e) {
    const id = this.idOf(e.target);
    if (id || !this.picture.shownFace() || this.svg.classList.contains('inert')) return id;
    const { camera } = this.picture;
    const slack = e.pointerType === 'touch' ? 14 : 7;
    return nearest(this.here(), this.state.kinds, this.picture.place(camera.under(e.clientX, e.clientY)), slack / camera.scale)?.id || 0;
  }

  /**
   * Shows which piece the pointer means.
   * @param {PointerEvent} e
   */
  hover(e) {
    const id = e.buttons || e.pointerType === 'touch' || e.type === 'pointerleave' ? 0 : this.meant(e);
    if (id === this.near) return;
    this.paths.get(this.near)?.classList.remove('near');
    this.near = id;
    this.paths.get(id)?.classList.add('near');
    this.svg.classList.toggle('meant', id !== 0);
  }

  /** The pieces of the face that is shown. */
  here() {
    return this.state ? this.state.pieces.filter((p) => p.face === this.picture.face) : [];
  }

  /** The pieces that are picked, in the order of their numbers. */
  picked() {
    return this.here().filter((p) => this.isPicked(p.id));
  }

  /** @param {number} id */
  isPicked(id) {
    return id === this.current || this.kept.has(id);
  }

  /**
   * Picks a piece, and with `more` those besides that were picked before.
   * @param {number} id
   * @param {boolean} [more]
   */
  pick(id, more = false) {
    if (!more) {
      if (this.current !== null && !this.kept.has(this.current)) this.kept.delete(id);
      this.current = id;
    } else if (this.isPicked(id)) {
      this.kept.delete(id);
      if (this.current === id) this.current = [...this.kept].pop() ?? null;
    } else {
      if (this.current !== null) this.kept.add(this.current);
      this.kept.add(id);
      this.current = id;
    }
    this.mark();
  }

  /**
   * Picks one and no other.
   * @param {number} id
   */
  only(id) {
    this.kept.clear();
    this.pick(id);
  }

  clear() {
    if (this.current === null && this.kept.size === 0) return;
    this.kept.clear();
    this.current = null;
    this.mark();
  }

  /**
   * Picks what now is where pieces were put: laying the rest anew can number all of them anew.
   * @param {{kind: number, at: import('./types.js').Point}[]} where
   */
  pickAt(where) {
    const near = (/** @type {Piece} */ p) => where.some((w) => Math.hypot(w.at[0] - p.at[0], w.at[1] - p.at[1]) < 0.05);
    const ids = this.here().filter(near).map((p) => p.id);
    this.kept = new Set(ids.length > 1 ? ids : []);
    this.current = ids.at(-1) ?? null;
    this.mark();
  }

  /** @param {KeyboardEvent} e */
  step(e) {
    const id = this.idOf(e.target);
    if (e.key === ' ' || e.key === 'Enter') {
      if (this.kept.has(id)) this.kept.delete(id);
      else this.kept.add(id);
      this.current = id;
      this.mark();
    } else if (e.key === 'Tab') {
      const all = this.here();
      const to = all[all.findIndex((p) => p.id === id) + (e.shiftKey ? -1 : 1)];
      if (!to) return; // Tab leads on
      this.focus(to.id);
    } else {
      return;
    }
    e.preventDefault();
    e.stopPropagation();
  }

  /** @param {number} id */
  focus(id) {
    this.paths.get(id)?.focus({ preventScroll: true });
  }

  /** Draws the outlines of the face that is shown. */
  draw() {
    const face = this.picture.shownFace();
    this.svg.toggleAttribute('hidden', !face);
    if (!face) return;
    const [x0, y0, x1, y1] = face.frame;
    this.svg.setAttribute('viewBox', `0 0 ${x1 - x0} ${y1 - y0}`);
    const here = this.here();
    const flawed = new Map();
    for (const f of this.state.flaws) for (const id of [f.piece, f.other]) if (id) flawed.set(id, saidOf(f, id).wrong);
    const shapes = this.state.kinds.map(pathOf);
    const gone = new Map(this.paths);
    let last = null;
    for (const p of here) {
      const kind = this.state.kinds[p.kind];
      let path = this.paths.get(p.id);
      if (!path) {
        path = /** @type {SVGPathElement} */ (s('path', { 'data-id': p.id, tabindex: '-1', role: 'button' }));
        this.paths.set(p.id, path);
      }
      gone.delete(p.id);
      const at = this.picture.board(p.at);
      set(path, 'd', shapes[p.kind]);
      set(path, 'transform', `translate(${at.x} ${at.y}) rotate(${p.heading})`);
      const flaw = flawed.get(p.id);
      path.classList.toggle('flawed', Boolean(flaw));
      set(path, 'aria-label', this.label(p, kind, flaw));
      // Elements stay in the order of their numbers, and where they are if they can: moving one takes its focus.
      if (last ? last.nextSibling !== path : this.list.firstChild !== path) this.list.insertBefore(path, last ? last.nextSibling : this.list.firstChild);
      last = path;
    }
    for (const [id, path] of gone) {
      path.remove();
      this.paths.delete(id);
    }
    this.lockAll();
    const ids = new Set(here.map((p) => p.id));
    for (const id of [...this.kept]) if (!ids.has(id)) this.kept.delete(id);
    if (this.current !== null && !ids.has(this.current)) this.current = null;
    this.mark();
    this.dispatchEvent(new Event('drawn'));
  }

  /** Marks what is locked, and what hangs. */
  lockAll() {
    if (!this.picture.state || !this.picture.shownFace()) return;
    const { kinds } = this.state;
    this.locks.replaceChildren(...this.here().filter((p) => p.locked).map((p) => padlock(this.picture.board(p.at), kinds[p.kind].outline, p.heading, this.picture.camera.scale)));
    this.locks.append(...this.here().filter((p) => p.up).map((p) => hungMark(this.picture.board(p.at), reachOf(kinds[p.kind]), this.picture.camera.scale)));
  }

  /**
   * @param {Piece} p
   * @param {Kind} kind
   * @param {string} [flaw]
   */
  label(p, kind, flaw) {
    const { units } = this.state;
    const where = place(p.at, units, this.picture.shownFace());
    return `piece ${p.id}, ${kind.code} ${kind.name}, ${where}, heading ${heading(p.heading)}${p.up ? ', hangs' : ''}${p.locked ? ', locked' : ''}${flaw ? `, ${flaw}` : ''}`;
  }

  /** Marks what is picked. */
  mark() {
    const first = this.here()[0];
    for (const [id, path] of this.paths) {
      const is = this.isPicked(id);
      path.classList.toggle('picked', is);
      set(path, 'aria-pressed', String(is));
      set(path, 'tabindex', id === (this.current ?? first?.id) ? '0' : '-1');
    }
    this.dispatchEvent(new Event('pick'));
  }
}

/**
 * @param {Element} el
 * @param {string} name
 * @param {string} value
 */
function set(el, name, value) {
  if (el.getAttribute(name) !== value) el.setAttribute(name, value);
}
