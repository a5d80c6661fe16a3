// What a click on the wall does: nothing more than pick, or measure, or add a piece.

import { h, s } from './dom.js';
import { apart, nudge } from './units.js';

/** @typedef {import('./types.js').Point} Point */

/** Events: `tool` when another is taken. */
export class Tools extends EventTarget {
  /**
   * @param {import('./hand.js').Hand} hand
   * @param {HTMLElement} layer
   */
  constructor(hand, layer) {
    super();
    this.hand = hand;
    this.pieces = hand.pieces;
    this.picture = hand.picture;
    this.tool = 'pick';
    this.kind = 0;
    this.twisted = false; // the ghost was turned by hand, and heads so from then on
    /** @type {Point[]} */
    this.points = [];
    /** @type {Point|null} where the next point or piece would be */
    this.next = null;
    this.line = s('g', { class: 'measure', 'aria-hidden': 'true' });
    this.pieces.over.append(this.line);
    this.words = h('output', { class: 'measured', hidden: true });
    layer.append(this.words);
    const { stage } = this.picture.camera;
    /** @type {{x: number, y: number}|null} */
    let down = null;
    stage.addEventListener('pointerdown', (e) => {
      down = e.isPrimary && e.button === 0 ? { x: e.clientX, y: e.clientY } : null;
    });
    stage.addEventListener('pointermove', (e) => {
      if (this.tool === 'pick' || !this.picture.shownFace()) return;
      this.aim(this.under(e));
    });
    stage.addEventListener('pointerup', (e) => {
      if (down && Math.hypot(e.clientX - down.x, e.clientY - down.y) < 6) this.tap(this.under(e), !this.pieces.meant(e));
      down = null;
    });
    this.picture.addEventListener('face', () => this.take('pick'));
    this.picture.camera.addEventListener('look', () => this.settle());
    this.picture.addEventListener('shown', () => this.draw());
  }

  /** @param {PointerEvent} e */
  under(e) {
    return this.picture.place(this.picture.camera.under(e.clientX, e.clientY));
  }

  /** @param {string} tool */
  take(tool) {
    this.hand.drop();
    this.tool = tool;
    this.twisted = false;
    this.points = [];
    this.next = null;
    this.pieces.svg.classList.toggle('inert', tool !== 'pick');
    this.picture.camera.stage.dataset.tool = tool;
    this.draw();
    this.dispatchEvent(new Event('tool'));
  }

  /** Begins at the middle of what is seen, for the keys. */
  begin() {
    if (this.tool !== 'pick' && !this.next) this.aim(this.picture.place(this.picture.camera.middle()));
  }

  /** @param {Point} at */
  aim(at) {
    this.next = at;
    if (this.tool === 'add') {
      // A new piece heads as the one nearest to it does.
      const near = this.pieces.here().map((p) => ({ p, far: Math.hypot(p.at[0] - at[0], p.at[1] - at[1]) })).sort((a, b) => a.far - b.far)[0];
      const was = this.hand.ghost[0];
      this.hand.show([{ id: 0, kind: this.kind, at, heading: was && this.twisted ? was.heading : near?.p.heading ?? 0 }]);
    } else {
      this.draw();
    }
  }

  /**
   * @param {Point} at
   * @param {boolean} ground whether nothing else takes the tap
   */
  tap(at, ground) {
    if (!this.picture.shownFace()) return;
    if (this.tool === 'pick') {
      if (ground) this.pieces.clear();
      return;
    }
    this.aim(at);
    this.set();
  }

  /** Sets the point, or the piece, where it would be. */
  async set() {
    if (!this.next) return;
    if (this.tool === 'measure') {
      if (this.points.length === 2) this.points = [];
      this.points.push(this.next);
      this.draw();
    } else if (this.tool === 'add' && this.hand.ghost[0]) {
      const put = this.hand.ghost[0];
      const mine = this.hand.turn;
      await this.hand.add(put);
      if (mine === this.hand.turn && this.hand.ghost[0] === put) this.hand.drop();
    }
  }

  /**
   * An arrow key. Reports whether the tool took it.
   * @param {number} dx
   * @param {number} dy
   */
  nudge(dx, dy) {
    if (this.tool === 'pick' || !this.picture.shownFace()) return false;
    this.begin();
    const step = nudge(this.picture.state.units) * 10;
    const [x, y] = /** @type {Point} */ (this.next);
    this.aim([x + dx * step, y + dy * step]);
    this.picture.camera.reveal(this.picture.board(/** @type {Point} */ (this.next)));
    return true;
  }

  /**
   * Turns what is to be added. Reports whether it did.
   * @param {number} by
   */
  twist(by) {
    if (this.tool !== 'add' || this.hand.ghost.length === 0) return false;
    this.twisted = true;
    this.hand.show(this.hand.turnedBy(by));
    return true;
  }

  ends() {
    const [a, b = this.next] = this.points;
    return a ? [a, b].filter((p) => p !== null && p !== undefined) : this.next ? [this.next] : [];
  }

  draw() {
    const ends = this.tool === 'measure' && this.picture.state && this.picture.shownFace() ? this.ends() : [];
    const at = ends.map((p) => this.picture.board(/** @type {Point} */ (p)));
    /** @type {SVGElement[]} */
    const marks = [];
    if (at.length === 2) {
      marks.push(s('path', { class: 'legs', d: `M${at[0].x},${at[0].y}H${at[1].x}V${at[1].y}` }));
      marks.push(s('path', { d: `M${at[0].x},${at[0].y}L${at[1].x},${at[1].y}` }));
    }
    const arm = 7 / this.picture.camera.scale;
    for (const p of at) marks.push(s('path', { d: `M${p.x - arm},${p.y}h${2 * arm}M${p.x},${p.y - arm}v${2 * arm}` }));
    this.line.replaceChildren(...marks);
    this.words.hidden = at.length < 2;
    if (at.length === 2) {
      const { units } = this.picture.state;
      const [a, b] = /** @type {Point[]} */ (ends);
      this.words.textContent = apart(a, b, units, this.picture.shownFace());
    }
    this.place(at[1]);
  }

  settle() {
    if (this.tool === 'measure') this.draw();
  }

  /** @param {{x: number, y: number}|undefined} at */
  place(at) {
    if (!at) return;
    const { camera } = this.picture;
    const p = camera.pixel(at);
    const x = Math.max(4, Math.min(p.x + 12, camera.stage.clientWidth - this.words.offsetWidth - 4));
    const y = Math.max(4, Math.min(p.y + 12, camera.stage.clientHeight - this.words.offsetHeight - 4));
    this.words.style.transform = `translate(${x}px, ${y}px)`;
  }
}
