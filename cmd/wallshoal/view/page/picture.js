// The picture: images one over the other, changed only when the new one is ready to be seen.

import { h } from './dom.js';
import { say } from './say.js';

/** @typedef {import('./types.js').State} State */
/** @typedef {import('./types.js').Face} Face */
/** @typedef {import('./types.js').Point} Point */

/** The overlays that a face can have, with the words for them. */
export const LAYERS = [
  ['zones', 'zones', 'where pieces or holes may not be'],
  ['datum', 'datum', 'the level line that heights are measured from'],
  ['tiles', 'sheets', 'how the hole map is cut into sheets of paper'],
  ['seams', 'seams', 'where holes come near an edge of a sheet'],
  ['stands', 'stands', 'what you reach from one place of the floor'],
  ['density', 'density', 'how close together pieces are to be'],
  ['flow', 'flow', 'which way the work moves'],
];

/** The face number of the picture of the whole room. */
export const ROOM = -1;

/**
 * Events: `face` when another face is shown, `shown` after new images came up.
 */
export class Picture extends EventTarget {
  /**
   * @param {HTMLElement} board
   * @param {import('./camera.js').Camera} camera
   */
  constructor(board, camera) {
    super();
    this.camera = camera;
    this.stack = h('div', { class: 'stack', 'aria-hidden': 'true' });
    board.prepend(this.stack);
    this.face = ROOM;
    this.look = 'client';
    /** @type {Set<string>} */
    this.layers = new Set();
    /** @type {State} */
    this.state = /** @type {any} */ (null);
    this.asked = 0;
    this.gone = () => {}; // told when a picture does not come
    this.failed = '';
  }

  /**
   * Where an image of the revision lies.
   * @param {number} revision
   * @param {number} face
   * @param {string} [look]
   */
  static address(revision, face, look = 'client') {
    const what = face === ROOM ? 'room' : `face/${face}`;
    return `/picture/${revision}/${what}.svg?look=${look}`;
  }

  /** @returns {Face|null} */
  shownFace() {
    return this.face === ROOM ? null : this.state.faces[this.face] || null;
  }

  /**
   * @param {number} face
   */
  show(face) {
    if (face === this.face) return Promise.resolve();
    this.face = face;
    this.dispatchEvent(new Event('face'));
    return this.paint(this.state, true);
  }

  /**
   * Begins with a face of a state, which is painted next.
   * @param {State} state
   * @param {number} face
   */
  begin(state, face) {
    this.state = state;
    this.face = face;
    this.dispatchEvent(new Event('face'));
  }

  /**
   * @param {string} look
   */
  setLook(look) {
    this.look = look;
    return this.paint(this.state);
  }

  /**
   * @param {string} layer
   * @param {boolean} on
   */
  setLayer(layer, on) {
    if (on) this.layers.add(layer);
    else this.layers.delete(layer);
    return this.paint(this.state);
  }

  /** The addresses of the images, from below. */
  addresses() {
    const { revision } = this.state;
    const list = [Picture.address(revision, this.face, this.look)];
    if (this.face !== ROOM) {
      for (const [layer] of LAYERS) if (this.layers.has(layer)) list.push(`/picture/${revision}/face/${this.face}/${layer}.svg`);
    }
    return list;
  }

  /**
   * Shows a state; done when it can be seen, or when something later took its place.
   * @param {State} state
   * @param {boolean} [anew] of another face: what is there now goes at once
   */
  async paint(state, anew = false) {
    this.state = state;
    if (this.face >= state.faces.length) this.face = ROOM;
    const mine = ++this.asked;
    this.stack.classList.toggle('waiting', anew);
    const wanted = this.addresses();
    const kept = new Map([...this.stack.children].map((img) => [img.dataset.address, img]));
    const images = wanted.map((address) => kept.get(address) || load(address));
    // Overlays come when they are ready: the pieces do not wait for them.
    const first = await ready(images[0]);
    if (mine !== this.asked) return;
    if (!first) {
      // Once it may be that the revision is gone. Twice it is the picture.
      if (this.failed === wanted[0]) say('This picture cannot be drawn.', 'wrong', 'Choose another below it.');
      else this.gone();
      this.failed = wanted[0];
      return;
    }
    this.fitTo(images[0]);
    const over = images.slice(1);
    const old = anew ? [] : [...this.stack.children].slice(1);
    this.stack.replaceChildren(images[0], ...old);
    this.stack.classList.remove('waiting');
    this.dispatchEvent(new Event('shown'));
    if (over.length + old.length === 0) return;
    const came = await Promise.all(over.map(ready));
    if (mine !== this.asked) return;
    this.stack.replaceChildren(images[0], ...over.filter((_, i) => came[i]));
  }

  /**
   * @param {HTMLImageElement} img
   */
  fitTo(img) {
    const face = this.shownFace();
    if (face) {
      const [x0, y0, x1, y1] = face.frame;
      this.camera.size(x1 - x0, y1 - y0);
    } else {
      // The room has no measures of its own: as if it were so many mm wide, for zooming to feel the same.
      const ratio = img.naturalHeight / img.naturalWidth || 0.6;
      this.camera.size(6000, 6000 * ratio);
    }
  }

  /**
   * A place of the face in the picture.
   * @param {Point} at
   */
  board(at) {
    const face = this.shownFace();
    return face ? { x: at[0] - face.frame[0], y: face.frame[3] - at[1] } : { x: 0, y: 0 };
  }

  /**
   * A place of the picture on the face, to a hundredth of a millimetre.
   * @param {{x: number, y: number}} at
   * @returns {Point}
   */
  place(at) {
    const face = this.shownFace();
    if (!face) return [0, 0];
    return [Math.round((at.x + face.frame[0]) * 100) / 100, Math.round((face.frame[3] - at.y) * 100) / 100];
  }
}

/**
 * @param {string} address
 */
function load(address) {
  return h('img', { alt: '', src: address, 'data-address': address, draggable: 'false' });
}

/**
 * Whether an image came to be seen.
 * @param {HTMLImageElement} img
 */
async function ready(img) {
  try {
    await img.decode();
    return true;
  } catch {
    return false;
  }
}
