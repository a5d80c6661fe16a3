// Handles over the picture: the places of the plan.

import { h } from './dom.js';
import { gesture } from './api.js';
import { narrow } from './beside.js';
import { Words, meet } from './words.js';

/** @typedef {import('./types.js').Knob} Knob */
/** @typedef {import('./types.js').Spot} Spot */

const STEP = 10; // mm that an arrow key moves a place
const CLOSE = 16; // pixels within which handles are drawn apart
const APART = 30; // pixels from their spot, and from each other
const NAME = 16; // pixels from the middle of a handle to its name
const REACH = 15; // pixels from there to its rim
const SLACK = 3; // pixels until a handle is dragged

/** @typedef {{el: HTMLElement, leader: HTMLElement, spot: Spot, knob: Knob, index: number, dx: number, dy: number, long: number, high: number}} Handle dx, dy: pixels from the spot to where it is drawn; long, high: the size of its name */

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
    /** @type {Map<string, Handle>} */
    this.handles = new Map();
    this.words = h('output', { class: 'clash', hidden: true });
    layer.append(this.words);
    this.at = ''; // the handle that the words are beside
    this.told = -1; // the revision of which they are true
    /** @type {Set<string>} the knobs whose places are shown though the plan has none */
    this.asked = new Set();
    this.dragging = '';
    this.moved = ''; // the handle that was moved last
    this.lettering = new Words(picture);
    this.lettering.addEventListener('read', () => this.settle());
    picture.addEventListener('shown', () => this.draw());
    picture.addEventListener('face', () => this.clear());
    picture.camera.addEventListener('look', () => this.settle());
  }

  clear() {
    for (const key of [...this.handles.keys()]) this.remove(key);
  }

  /** @param {string} key */
  remove(key) {
    const handle = this.handles.get(key);
    handle?.el.remove();
    handle?.leader.remove();
    this.handles.delete(key);
    if (key === this.at) this.words.hidden = true;
  }

  draw() {
    if (this.told !== this.picture.state.revision) this.words.hidden = true;
    const stale = new Set(this.handles.keys());
    for (const knob of this.picture.state.knobs) {
      if (!knob.given && !this.asked.has(knob.id)) continue;
      knob.places.forEach((spot, index) => {
        if (spot.face !== this.picture.face) return;
        const key = `${knob.id} ${index}`;
        stale.delete(key);
        let handle = this.handles.get(key);
        if (!handle) {
          const leader = h('span', { class: 'leader', hidden: true });
          this.layer.prepend(leader); // under all handles
          handle = { el: this.make(key), leader, spot, knob, index, dx: 0, dy: 0, long: 0, high: 0 };
          this.handles.set(key, handle);
        }
        handle.knob = knob;
        if (this.dragging !== key) handle.spot = spot;
        const many = knob.places.length > 1 ? ` ${index + 1}` : '';
        handle.el.setAttribute('aria-label', `${knob.label}${many}: ${knob.help}`);
        const name = /** @type {HTMLElement} */ (handle.el.lastChild);
        if (name.textContent !== knob.label + many) {
          name.textContent = knob.label + many;
          [handle.long, handle.high] = [name.offsetWidth, name.offsetHeight];
        }
      });
    }
    for (const key of stale) this.remove(key);
    if (this.handles.size > 0) this.lettering.read();
    this.settle();
  }

  /** Puts the handles where their places are seen, and those of one spot beside it. */
  settle() {
    const all = [...this.handles].map(([key, handle]) => ({ key, handle, at: this.picture.camera.pixel(this.picture.board(handle.spot.at)) }));
    if (!this.dragging) this.fan(all);
    this.nameAll(all);
    for (const { handle: { el, leader, dx, dy }, at } of all) {
      el.style.transform = `translate(${at.x + dx}px, ${at.y + dy}px)`;
      leader.hidden = dx === 0 && dy === 0;
      leader.style.width = `${Math.hypot(dx, dy)}px`;
      leader.style.transform = `translate(${at.x}px, ${at.y}px) rotate(${Math.atan2(dy, dx)}rad)`;
    }
    this.beside();
  }

  /**
   * Puts names beside their handles. Those stay to be seen that cover no word of the picture, no other name and no
   * handle; the others come when they are asked for.
   * @param {{handle: Handle, at: {x: number, y: number}}[]} all
   */
  nameAll(all) {
    const { clientWidth: wide, clientHeight: tall } = this.picture.camera.stage;
    const taken = all.map(({ handle: { dx, dy }, at }) => ({ left: at.x + dx - REACH, top: at.y + dy - REACH, right: at.x + dx + REACH, bottom: at.y + dy + REACH }));
    all.forEach(({ handle: { el, dx, dy, long, high }, at }, i) => {
      const [x, y] = [at.x + dx, at.y + dy];
      const box = (/** @type {number} */ left, /** @type {number} */ top) => ({ left, top, right: left + long, bottom: top + high });
      const places = {
        rightward: box(x + NAME, y - high / 2), leftward: box(x - NAME - long, y - high / 2),
        above: box(x - long / 2, y - NAME - high), below: box(x - long / 2, y + NAME),
      };
      const free = Object.entries(places).find(([, b]) => b.left >= 0 && b.top >= 0 && b.right <= wide && b.bottom <= tall
        && taken.every((t, j) => j === i || !meet(b, t)) && this.lettering.clear(b));
      const side = free ? free[0] : places.rightward.right > wide ? 'leftward' : 'rightward';
      for (const name of Object.keys(places)) el.classList.toggle(name, name === side);
      el.classList.toggle('named', Boolean(free));
      if (free) taken.push(free[1]);
    });
  }

  /**
   * Draws handles apart that lie too close to be told from each other. The one that was moved last stays where the
   * hand let go of it.
   * @param {{key: string, handle: Handle, at: {x: number, y: number}}[]} all
   */
  fan(all) {
    let left = [...all];
    while (left.length > 0) {
      const first = left.find((o) => o.key === this.moved) || left[0];
      const near = left.filter((o) => Math.hypot(o.at.x - first.at.x, o.at.y - first.at.y) <= CLOSE);
      left = left.filter((o) => !near.includes(o));
      const off = near.length < 2 ? [] : near.filter((o) => o.key !== this.moved);
      for (const { handle } of near) [handle.dx, handle.dy] = [0, 0];
      off.forEach(({ handle, at }, i) => {
        handle.dx = first.at.x - at.x + APART;
        handle.dy = first.at.y - at.y + (i - (off.length - 1) / 2) * APART;
      });
    }
  }

  /**
   * Says beside a handle what is wrong about where it was put.
   * @param {Knob} knob
   * @param {string} wrong nothing, if all is well
   */
  tell(knob, wrong) {
    const mine = [...this.handles].filter(([, handle]) => handle.knob.id === knob.id).map(([key]) => key);
    if (!wrong) {
      if (mine.includes(this.at)) this.words.hidden = true;
      return;
    }
    if (mine.length === 0) return;
    this.at = mine.includes(this.moved) ? this.moved : mine[0];
    this.words.textContent = `⚠ ${wrong}`;
    this.words.hidden = false;
    this.told = this.picture.state.revision;
    this.beside();
    if (!this.dragging) this.back();
  }

  /** Puts the words beside their handle. */
  beside() {
    const handle = this.handles.get(this.at);
    if (!handle || this.words.hidden) return;
    const { camera } = this.picture;
    const at = camera.pixel(this.picture.board(handle.spot.at));
    const { offsetWidth: w, offsetHeight: t } = this.words;
    const x = Math.max(4, Math.min(at.x - w / 2, camera.stage.clientWidth - w - 4));
    // On a telephone at the top, or at the foot for what is up there: never under the thumb.
    const far = at.y > t + 44 ? 4 : camera.stage.clientHeight - t - 4;
    this.words.style.transform = `translate(${x}px, ${narrow(camera.stage) ? far : at.y > t + 44 ? at.y - t - 30 : at.y + 36}px)`;
  }

  /** Puts the handles where the plan has their places: what was refused is not there. */
  back() {
    for (const handle of this.handles.values()) handle.spot = handle.knob.places[handle.index] || handle.spot;
    this.settle();
  }

  /** @param {string} key */
  make(key) {
    const el = h('button', { class: 'pin', type: 'button' }, h('span', { class: 'dot' }), h('span', { class: 'name' }));
    this.layer.append(el);
    let name = '';
    let from = { x: 0, y: 0 }; // where it went down
    let off = { x: 0, y: 0 }; // from there to the middle of the handle
    let far = false;
    el.addEventListener('pointerdown', (/** @type {PointerEvent} */ e) => {
      if (e.button !== 0) return;
      e.stopPropagation();
      el.setPointerCapture(e.pointerId);
      this.dragging = key;
      name = gesture();
      const { camera } = this.picture;
      const under = camera.pixel(camera.under(e.clientX, e.clientY));
      const { spot, dx, dy } = /** @type {Handle} */ (this.handles.get(key));
      const at = camera.pixel(this.picture.board(spot.at));
      from = { x: e.clientX, y: e.clientY };
      off = { x: at.x + dx - under.x, y: at.y + dy - under.y };
      far = false;
      el.classList.add('held');
    });
    el.addEventListener('pointermove', (/** @type {PointerEvent} */ e) => {
      far = far || Math.hypot(e.clientX - from.x, e.clientY - from.y) > SLACK;
      if (this.dragging === key && far) this.move(key, this.picture.place(this.picture.camera.under(e.clientX + off.x, e.clientY + off.y)), name);
    });
    for (const end of ['pointerup', 'pointercancel', 'lostpointercapture']) {
      el.addEventListener(end, () => {
        if (this.dragging !== key) return;
        this.dragging = '';
        el.classList.remove('held');
        if (this.at === key && !this.words.hidden) this.back();
        else this.settle();
      });
    }
    let last = 0;
    el.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
      if (!way) return;
      e.preventDefault();
      e.stopPropagation();
      if (!name || e.timeStamp - last > 1500) name = gesture();
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
    this.moved = key;
    // From now on it is drawn at the spot itself, which thus is where the hand lets go of it.
    [handle.dx, handle.dy] = [0, 0];
    handle.spot = { face: this.picture.face, at: this.within(at) };
    this.settle();
    const spots = handle.knob.places.map((p, i) => this.handles.get(`${handle.knob.id} ${i}`)?.spot || p);
    this.turn(handle.knob, written(spots), name);
  }

  /**
   * The place nearest to one that lies within the bounds of the face: no place of a plan is beyond.
   * @param {import('./types.js').Point} at
   * @returns {import('./types.js').Point}
   */
  within(at) {
    const outline = this.picture.shownFace()?.outline.flat() || [];
    if (outline.length === 0) return at;
    const [x, y] = [0, 1].map((i) => {
      const all = outline.map((p) => p[i]);
      // Inwards to whole millimetres, as they are written.
      return Math.max(Math.ceil(Math.min(...all)), Math.min(Math.floor(Math.max(...all)), at[i]));
    });
    return [x, y];
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
