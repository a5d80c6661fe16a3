// Pieces moved by hand: dragged, turned, nudged. A ghost goes ahead, and it says what would be said of them there.
import { gesture } from './api.js';
import { s, counted } from './dom.js';
import { Judge } from './judge.js';
import { padlock } from './locks.js';
import { pathOf } from './pieces.js';
import { say } from './say.js';
import { nudge, turned } from './units.js';

/** @typedef {import('./types.js').Point} Point */
/** @typedef {{id: number, kind: number, at: Point, heading: number}} Put */

const SETTLE = 350; // ms after the last key of a nudge until it is done
/** Events: `ghost` after the ghost is another. */
export class Hand extends EventTarget {
  /**
   * @param {import('./session.js').Session} session
   * @param {import('./pieces.js').Pieces} pieces
   */
  constructor(session, pieces) {
    super();
    this.session = session;
    this.pieces = pieces;
    this.picture = pieces.picture;
    /** @type {Put[]} */
    this.ghost = [];
    this.judge = new Judge(this.picture);
    this.rest = 'stay';
    /** @type {{x: number, y: number}|null} where on the stage the pointer is that drags */
    this.thumb = null;
    this.layer = s('g', { class: 'ghost', 'aria-hidden': 'true' });
    pieces.over.append(this.layer);
    this.timer = 0;
    this.turn = 0; // another for every ghost
    pieces.svg.addEventListener('pointerdown', (/** @type {PointerEvent} */ e) => this.grab(e));
    this.picture.addEventListener('face', () => this.drop());
    for (const event of ['pick', 'drawn']) pieces.addEventListener(event, () => this.settled());
    this.judge.addEventListener('said', () => this.mark());
  }

  /**
   * Shows where pieces would be.
   * @param {Put[]} puts
   */
  show(puts) {
    this.ghost = puts;
    const { kinds } = this.picture.state;
    this.layer.replaceChildren(...puts.map((p) => {
      const at = this.picture.board(p.at);
      return s('path', { d: pathOf(kinds[p.kind]), transform: `translate(${at.x} ${at.y}) rotate(${p.heading})` });
    }));
    this.layer.append(...puts.filter((p) => this.pieces.get(p.id)?.locked).map((p) => s('g', { class: 'locks' },
      padlock(this.picture.board(p.at), kinds[p.kind].outline, p.heading, this.picture.camera.scale))));
    this.dispatchEvent(new Event('ghost'));
    this.judge.moved(puts);
  }

  /** Marks the ghost by what is said of it. */
  mark() {
    const { flaws, cautions } = this.judge.said;
    this.layer.classList.toggle('bad', flaws.length > 0 || cautions.some((c) => c.severity === 'stop' && !c.decided));
    this.layer.classList.toggle('care', cautions.some((c) => c.severity === 'ask' && c.new && !c.decided));
  }

  drop() {
    clearTimeout(this.timer);
    this.timer = 0;
    this.turn++;
    this.ghost = [];
    this.layer.replaceChildren();
    this.dispatchEvent(new Event('ghost'));
    this.settled();
  }

  /** Asks what is said of the pieces where they are, unless they are under way. */
  settled() {
    if (this.ghost.length === 0) this.judge.still(this.pieces.picked().map((p) => p.id));
  }

  /** What the lock of the ghost's piece comes to, in words: a lock holds it from the flow, not from the hand. */
  lockWords() {
    const hung = this.ghost.filter((p) => this.pieces.get(p.id)?.up).length;
    if (hung > 0) return this.ghost.length === 1 ? 'hangs: to move it means to take it down' : `${hung} of them hang: to move those means to take them down`;
    const n = this.ghost.filter((p) => this.pieces.get(p.id)?.locked).length;
    if (n === 0) return '';
    return this.ghost.length === 1 ? 'locked: stays locked where you put it' : `${n} of them locked: what is locked stays so`;
  }

  /** Where the pieces of the ghost, and the handle to turn them by, are on the stage, in pixels. */
  boxes() {
    const stage = this.picture.camera.stage.getBoundingClientRect();
    const handles = [...document.querySelectorAll('#marks .turn')].filter((el) => el.checkVisibility({ visibilityProperty: true }));
    return [...this.layer.querySelectorAll(':scope > path'), ...handles].map((el) => {
      const b = el.getBoundingClientRect();
      return { left: b.left - stage.left, top: b.top - stage.top, right: b.right - stage.left, bottom: b.bottom - stage.top };
    });
  }

  /** The picked pieces as they are, or as their ghost is. */
  puts() {
    if (this.ghost.length > 0) return this.ghost;
    return this.pieces.picked().map(({ id, kind, at, heading }) => ({ id, kind, at, heading }));
  }

  /**
   * Moves the picked pieces on.
   * @param {number} dx mm to the right
   * @param {number} dy mm up
   * @param {Put[]} [from]
   */
  moved(dx, dy, from = this.puts()) {
    const round = (/** @type {number} */ v) => Math.round(v * 100) / 100;
    return from.map((p) => ({ ...p, at: /** @type {Point} */ ([round(p.at[0] + dx), round(p.at[1] + dy)]) }));
  }

  /**
   * Turns them, each about its own centre.
   * @param {number} by degrees clockwise
   * @param {Put[]} [from]
   */
  turnedBy(by, from = this.puts()) {
    return from.map((p) => ({ ...p, heading: turned(p.heading + by) }));
  }

  /**
   * An arrow key.
   * @param {number} dx steps to the right
   * @param {number} dy steps up
   */
  nudge(dx, dy) {
    const step = nudge(this.picture.state.units);
    this.show(this.moved(dx * step, dy * step));
    this.settle();
  }

  /** @param {number} by degrees */
  twist(by) {
    this.show(this.turnedBy(by));
    this.settle();
  }

  /** Puts the pieces where the ghost is once no more keys come. */
  settle() {
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.put(), SETTLE);
  }

  /** Puts the pieces where the ghost is. */
  async put() {
    clearTimeout(this.timer);
    this.timer = 0;
    const puts = this.ghost;
    if (puts.length === 0) return;
    const mine = this.turn;
    await this.change(puts.map((p) => ({ do: 'place', id: p.id, face: this.picture.face, at: p.at, heading: p.heading })), puts);
    if (mine === this.turn && this.ghost === puts) this.drop();
  }

  /**
   * Changes pieces, and picks what was changed.
   * @param {object[]} changes
   * @param {Put[]} [puts] where they are afterwards
   * @param {string} [rest] what the others do
   */
  async change(changes, puts, rest = this.rest) {
    const state = await this.session.change('/api/pieces', { gesture: gesture(), rest, changes });
    if (state && puts && rest === 'flow') this.pieces.pickAt(puts);
    return state;
  }

  /** @param {PointerEvent} e */
  grab(e) {
    const id = this.pieces.meant(e);
    if (!id || e.button !== 0 || !e.isPrimary) return;
    const was = this.pieces.isPicked(id);
    // A finger pans unless the piece is picked: one that only wants to look moves nothing.
    const drags = e.pointerType === 'mouse' || was;
    if (drags) e.stopPropagation();
    this.pieces.pointed = true;
    if (!was && !e.shiftKey && drags) this.pieces.only(id);
    this.follow(e, drags ? 4 : 8, {
      move: drags ? (from, to) => this.show(this.moved(to[0] - from[0], to[1] - from[1], start())) : undefined,
      end: () => this.put(),
      tap: () => {
        if (e.shiftKey) this.pieces.pick(id, true);
        else this.pieces.only(id);
        this.pieces.focus(id);
      },
      off: () => this.drop(),
    });
    /** @type {Put[]|null} */
    let begun = null;
    const start = () => {
      if (!begun) {
        this.drop();
        if (!this.pieces.isPicked(id)) this.pieces.pick(id, e.shiftKey);
        begun = this.puts();
      }
      return begun;
    };
    addEventListener('pointerup', () => setTimeout(() => { this.pieces.pointed = false; }, 50), { once: true });
  }

  /**
   * Follows a pointer from where it went down.
   * @param {PointerEvent} down
   * @param {number} slack pixels until it counts as dragged
   * @param {{move?: (from: Point, to: Point) => void, end: () => void, tap?: () => void, off: () => void}} does
   */
  follow(down, slack, does) {
    const { camera } = this.picture;
    const from = this.picture.place(camera.under(down.clientX, down.clientY));
    let far = false;
    const on = new AbortController();
    const mine = (/** @type {PointerEvent} */ e) => e.pointerId === down.pointerId;
    const close = () => {
      on.abort();
      this.thumb = null;
      document.body.classList.remove('dragging');
    };
    addEventListener('pointermove', (e) => {
      if (!mine(e)) return;
      far = far || Math.hypot(e.clientX - down.clientX, e.clientY - down.clientY) > slack;
      document.body.classList.toggle('dragging', far && does.move !== undefined);
      this.thumb = camera.pixel(camera.under(e.clientX, e.clientY));
      if (far && does.move) does.move(from, this.picture.place(camera.under(e.clientX, e.clientY)));
    }, { signal: on.signal });
    addEventListener('pointerup', (e) => {
      if (!mine(e)) return;
      close();
      if (!far) does.tap?.();
      else if (does.move) does.end();
    }, { signal: on.signal });
    // A second finger wants to zoom.
    for (const [event, other] of /** @type {['pointercancel'|'pointerdown', boolean][]} */ ([['pointercancel', false], ['pointerdown', true]])) {
      addEventListener(event, (e) => {
        if (mine(e) === other) return;
        close();
        does.off();
      }, { signal: on.signal, capture: true });
    }
    addEventListener('keydown', (e) => {
      if (e.key !== 'Escape' || !far) return;
      e.stopPropagation();
      close();
      does.off();
    }, { signal: on.signal, capture: true });
  }

  /**
   * Does something to every picked piece.
   * @param {'lock'|'unlock'|'delete'} what
   */
  async all(what) {
    const picked = this.pieces.picked();
    if (picked.length === 0) return;
    // A lock by itself moves nothing.
    const state = await this.change(picked.map((p) => ({ do: what, id: p.id })), what === 'delete' ? [] : picked, what === 'delete' ? this.rest : 'stay');
    const locked = picked.filter((p) => p.locked);
    if (state && what === 'delete' && locked.length > 0) say(`${named(locked)} locked, and ${locked.length === 1 ? 'is' : 'are'} taken away. Undo brings ${locked.length === 1 ? 'it' : 'them'} back.`);
  }

  /** Locks the picked pieces; or unlocks them, where all are. */
  lock() {
    return this.all(this.pieces.picked().every((p) => p.locked) ? 'unlock' : 'lock');
  }

  /** Lets the two picked pieces change places. */
  async swap() {
    const [a, b] = this.pieces.picked();
    if (a && b && await this.change([{ do: 'swap', id: a.id, with: b.id }], [a, b])) say('The two have changed places, and are locked there.');
  }

  /**
   * Makes the picked pieces another kind.
   * @param {number} kind
   */
  async become(kind) {
    const picked = this.pieces.picked();
    await this.change(picked.map((p) => ({ do: 'place', id: p.id, kind })), picked);
  }

  /**
   * Adds a piece.
   * @param {Put} put
   */
  async add(put) {
    const before = new Set(this.session.state.pieces.map((p) => p.id));
    const state = await this.change([{ do: 'add', face: this.picture.face, at: put.at, heading: put.heading, kind: put.kind }], [put]);
    const added = state?.pieces.find((p) => !before.has(p.id));
    if (added && this.rest !== 'flow') this.pieces.only(added.id);
    return state;
  }
}

/** @param {import('./types.js').Piece[]} locked */
function named(locked) {
  return locked.length === 1 ? `Piece ${locked[0].id} was` : `${counted(locked.length, 'piece')} of them were`;
}
