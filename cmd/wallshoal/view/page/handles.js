// Handles over the picture: the places of the plan, and the turning of a picked piece.

import { h } from './dom.js';
import { gesture } from './api.js';
import { reachOf } from './pieces.js';
import { turned } from './units.js';

/** @typedef {import('./types.js').Knob} Knob */
/** @typedef {import('./types.js').Spot} Spot */

const STEP = 10; // mm that an arrow key moves a place

/**
 * Writes places as the server reads them.
 * @param {Spot[]} spots
 */
export function written(spots) {
  return spots.map((p) => `${p.face} ${Math.round(p.at[0])} ${Math.round(p.at[1])}`).join('; ');
}

/** The handles of the places that knobs have on the face that is shown. */
export class PlaceHandles {
  /**
   * @param {HTMLElement} layer
   * @param {import('./picture.js').Picture} picture
   * @param {(knob: Knob, value: string, gesture: string) => Promise<unknown>} turn
   */
  constructor(layer, picture, turn) {
    this.layer = layer;
    this.picture = picture;
    this.turn = turn;
    /** @type {Map<string, {el: HTMLElement, spot: Spot, knob: Knob, index: number}>} */
    this.handles = new Map();
    /** @type {Set<string>} the knobs whose places are shown though the plan has none */
    this.asked = new Set();
    this.dragging = '';
    picture.addEventListener('shown', () => this.draw());
    picture.addEventListener('face', () => this.clear());
    picture.camera.addEventListener('look', () => this.settle());
  }

  clear() {
    for (const { el } of this.handles.values()) el.remove();
    this.handles.clear();
  }

  draw() {
    const stale = new Set(this.handles.keys());
    for (const knob of this.picture.state.knobs) {
      if (!knob.given && !this.asked.has(knob.id)) continue;
      knob.places.forEach((spot, index) => {
        if (spot.face !== this.picture.face) return;
        const key = `${knob.id} ${index}`;
        stale.delete(key);
        let handle = this.handles.get(key);
        if (!handle) {
          handle = { el: this.make(key), spot, knob, index };
          this.handles.set(key, handle);
        }
        handle.knob = knob;
        if (this.dragging !== key) handle.spot = spot;
        const many = knob.places.length > 1 ? ` ${index + 1}` : '';
        handle.el.setAttribute('aria-label', `${knob.label}${many}: ${knob.help}`);
        /** @type {HTMLElement} */ (handle.el.lastChild).textContent = knob.label + many;
      });
    }
    for (const key of stale) {
      this.handles.get(key)?.el.remove();
      this.handles.delete(key);
    }
    this.settle();
  }

  /** Puts the handles where their places are seen. */
  settle() {
    for (const { el, spot } of this.handles.values()) {
      const at = this.picture.camera.pixel(this.picture.board(spot.at));
      el.style.transform = `translate(${at.x}px, ${at.y}px)`;
    }
  }

  /** @param {string} key */
  make(key) {
    const el = h('button', { class: 'pin', type: 'button' }, h('span', { class: 'dot' }), h('span', { class: 'name' }));
    this.layer.append(el);
    let name = '';
    el.addEventListener('pointerdown', (/** @type {PointerEvent} */ e) => {
      if (e.button !== 0) return;
      e.stopPropagation();
      el.setPointerCapture(e.pointerId);
      this.dragging = key;
      name = gesture();
    });
    el.addEventListener('pointermove', (/** @type {PointerEvent} */ e) => {
      if (this.dragging === key) this.move(key, this.picture.place(this.picture.camera.under(e.clientX, e.clientY)), name);
    });
    for (const end of ['pointerup', 'pointercancel', 'lostpointercapture']) {
      el.addEventListener(end, () => {
        if (this.dragging === key) this.dragging = '';
      });
    }
    let last = 0;
    el.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
      if (!way) return;
      e.preventDefault();
      e.stopPropagation();
      if (e.timeStamp - last > 1500) name = gesture();
      last = e.timeStamp;
      const step = e.shiftKey ? STEP * 10 : STEP;
      const { at } = /** @type {any} */ (this.handles.get(key)).spot;
      this.move(key, [at[0] + way[0] * step, at[1] + way[1] * step], name);
    });
    return el;
  }

  /**
   * @param {string} key
   * @param {import('./types.js').Point} at
   * @param {string} name of the gesture
   */
  move(key, at, name) {
    const handle = this.handles.get(key);
    if (!handle) return;
    handle.spot = { face: this.picture.face, at };
    this.settle();
    const spots = handle.knob.places.map((p, i) => this.handles.get(`${handle.knob.id} ${i}`)?.spot || p);
    this.turn(handle.knob, written(spots), name);
  }

  /**
   * Shows where a knob's place is, for it to be dragged.
   * @param {Knob} knob
   */
  async reveal(knob) {
    const [spot] = knob.places;
    if (!spot) return;
    this.asked.add(knob.id);
    await this.picture.show(spot.face);
    this.draw();
    this.picture.camera.reveal(this.picture.board(spot.at));
    this.handles.get(`${knob.id} 0`)?.el.focus();
  }
}

/**
 * The handle by which a picked piece is turned.
 * @param {HTMLElement} layer
 * @param {import('./hand.js').Hand} hand
 */
export function turnHandle(layer, hand) {
  const { pieces, picture } = hand;
  const el = h('button', { class: 'turn', type: 'button', hidden: true, 'aria-label': 'turn the picked piece: drag, or press [ and ]', title: 'turn' });
  layer.append(el);
  const settle = () => {
    const [put] = hand.puts();
    el.hidden = !put || picture.face < 0;
    if (el.hidden) return;
    const centre = picture.camera.pixel(picture.board(put.at));
    const far = reachOf(picture.state.kinds[put.kind]) * picture.camera.scale + 26;
    const angle = (put.heading * Math.PI) / 180;
    el.style.transform = `translate(${centre.x + far * Math.sin(angle)}px, ${centre.y - far * Math.cos(angle)}px)`;
  };
  for (const [of, event] of [[pieces, 'pick'], [pieces, 'drawn'], [hand, 'ghost'], [picture.camera, 'look']]) {
    /** @type {EventTarget} */ (of).addEventListener(/** @type {string} */ (event), settle);
  }
  el.addEventListener('pointerdown', (/** @type {PointerEvent} */ e) => {
    if (e.button !== 0) return;
    e.stopPropagation();
    hand.drop();
    const from = hand.puts();
    const [first] = from;
    const bearing = (/** @type {[number, number]} */ p) => (Math.atan2(p[0] - first.at[0], p[1] - first.at[1]) * 180) / Math.PI;
    hand.follow(e, 2, {
      move: (_, to) => hand.show(hand.turnedBy(Math.round(turned(bearing(to)) - first.heading), from)),
      end: () => hand.put(),
      off: () => hand.drop(),
    });
  });
}
