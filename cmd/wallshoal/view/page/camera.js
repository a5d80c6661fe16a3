// What of the picture is seen, and how large.

/** @typedef {{x: number, y: number}} At a place in the picture's own measures, y down */

const MOST = 4; // pixels for each mm, at most

/**
 * Shows a board, which is so many units wide and high, within a stage. Event `look` after every change.
 */
export class Camera extends EventTarget {
  /**
   * @param {HTMLElement} stage what it is seen through
   * @param {HTMLElement} board what is moved
   */
  constructor(stage, board) {
    super();
    this.stage = stage;
    this.board = board;
    this.width = 1;
    this.height = 1;
    this.scale = 1; // pixels for each unit
    this.x = 0; // where the board's left top corner is, in pixels of the stage
    this.y = 0;
    this.fitted = true;
    this.frame = 0;
    let seen = [stage.clientWidth, stage.clientHeight];
    new ResizeObserver(() => {
      const now = [stage.clientWidth, stage.clientHeight];
      // What was in the middle stays there.
      this.x += (now[0] - seen[0]) / 2;
      this.y += (now[1] - seen[1]) / 2;
      seen = now;
      if (this.fitted) this.fit();
      else this.show();
    }).observe(stage);
  }

  /**
   * Gives the board another size, and shows all of it.
   * @param {number} width
   * @param {number} height
   */
  size(width, height) {
    if (width === this.width && height === this.height) return;
    this.width = width;
    this.height = height;
    this.fit();
  }

  /** Shows all of it. */
  fit() {
    const { clientWidth: w, clientHeight: h } = this.stage;
    if (w === 0 || h === 0) return;
    this.scale = this.least();
    this.x = (w - this.width * this.scale) / 2;
    this.y = (h - this.height * this.scale) / 2;
    this.fitted = true;
    this.show();
  }

  least() {
    const rim = 8;
    return Math.min((this.stage.clientWidth - 2 * rim) / this.width, (this.stage.clientHeight - 2 * rim) / this.height);
  }

  /**
   * Zooms by a factor about a place of the stage, in pixels; about its middle if none is given.
   * @param {number} factor
   * @param {number} [px]
   * @param {number} [py]
   */
  zoom(factor, px = this.stage.clientWidth / 2, py = this.stage.clientHeight / 2) {
    const least = this.least();
    const scale = Math.max(least, Math.min(Math.max(MOST, least), this.scale * factor));
    this.x = px - ((px - this.x) * scale) / this.scale;
    this.y = py - ((py - this.y) * scale) / this.scale;
    this.scale = scale;
    this.fitted = scale === least;
    if (this.fitted) this.fit();
    else this.show();
  }

  /**
   * @param {number} dx pixels
   * @param {number} dy
   */
  pan(dx, dy) {
    this.x += dx;
    this.y += dy;
    this.fitted = false;
    this.show();
  }

  /**
   * Pans as little as needed for a place to be seen well within the stage.
   * @param {At} at
   */
  reveal(at) {
    const rim = 60;
    const p = this.pixel(at);
    const { clientWidth: w, clientHeight: h } = this.stage;
    const dx = Math.max(0, rim - p.x) - Math.max(0, p.x - (w - rim));
    const dy = Math.max(0, rim - p.y) - Math.max(0, p.y - (h - rim));
    if (dx || dy) this.pan(dx, dy);
  }

  show() {
    // A good part stays within, so that the wall is never lost.
    const { clientWidth: w, clientHeight: h } = this.stage;
    const keep = 80;
    this.x = Math.min(w - keep, Math.max(keep - this.width * this.scale, this.x));
    this.y = Math.min(h - keep, Math.max(keep - this.height * this.scale, this.y));
    if (this.frame) return;
    this.frame = requestAnimationFrame(() => {
      this.frame = 0;
      const style = this.board.style;
      style.width = `${this.width * this.scale}px`;
      style.height = `${this.height * this.scale}px`;
      style.transform = `translate(${this.x}px, ${this.y}px)`;
      this.dispatchEvent(new Event('look'));
    });
  }

  /**
   * The place of the picture under a place of the window.
   * @param {number} clientX
   * @param {number} clientY
   * @returns {At}
   */
  under(clientX, clientY) {
    const box = this.stage.getBoundingClientRect();
    return {
      x: (clientX - box.left - this.stage.clientLeft - this.x) / this.scale,
      y: (clientY - box.top - this.stage.clientTop - this.y) / this.scale,
    };
  }

  /**
   * Where on the stage a place of the picture is, in pixels.
   * @param {At} at
   * @returns {At}
   */
  pixel(at) {
    return { x: this.x + at.x * this.scale, y: this.y + at.y * this.scale };
  }

  /** The middle of what is seen. */
  middle() {
    return { x: (this.stage.clientWidth / 2 - this.x) / this.scale, y: (this.stage.clientHeight / 2 - this.y) / this.scale };
  }
}

/**
 * Lets wheel and fingers move the camera. Whoever handles something else on the stage stops the event before.
 * @param {Camera} camera
 * @param {() => boolean} held whether space is held, and everything pans
 */
export function steer(camera, held) {
  const { stage } = camera;
  /** @type {Map<number, {x: number, y: number, free: boolean}>} those down on the stage; free, if nothing else took them */
  const fingers = new Map();

  stage.addEventListener('wheel', (e) => {
    e.preventDefault();
    const box = stage.getBoundingClientRect();
    const step = e.deltaMode === 1 ? 24 : 1;
    camera.zoom(Math.exp(-e.deltaY * step * (e.ctrlKey ? 0.01 : 0.0015)), e.clientX - box.left, e.clientY - box.top);
  }, { passive: false });

  stage.addEventListener('pointerdown', (e) => {
    if (e.button !== 0 && e.button !== 1) return;
    fingers.set(e.pointerId, { x: e.clientX, y: e.clientY, free: true });
    stage.setPointerCapture(e.pointerId);
    stage.classList.add('panning');
  });
  stage.addEventListener('pointermove', (e) => {
    const was = fingers.get(e.pointerId);
    if (!was) return;
    const now = { x: e.clientX, y: e.clientY, free: was.free };
    if (fingers.size === 2) pinch(e.pointerId, now);
    else if (was.free) camera.pan(now.x - was.x, now.y - was.y);
    fingers.set(e.pointerId, now);
  });
  for (const end of ['pointerup', 'pointercancel']) {
    addEventListener(end, (e) => {
      fingers.delete(/** @type {PointerEvent} */ (e).pointerId);
      if (fingers.size === 0) stage.classList.remove('panning');
    });
  }
  // With space held nothing on the stage is picked or dragged.
  stage.addEventListener('pointerdown', (e) => {
    if ((held() || e.button === 1) && e.target !== stage) {
      e.stopPropagation();
      stage.dispatchEvent(new PointerEvent('pointerdown', e));
    } else if (e.pointerType === 'touch') {
      // Two fingers zoom, wherever they are put.
      fingers.set(e.pointerId, { x: e.clientX, y: e.clientY, free: false });
    }
  }, { capture: true });

  /**
   * @param {number} id the finger that moved
   * @param {{x: number, y: number}} now
   */
  function pinch(id, now) {
    const [other] = [...fingers].filter(([key]) => key !== id).map(([, at]) => at);
    const was = /** @type {{x: number, y: number}} */ (fingers.get(id));
    const box = stage.getBoundingClientRect();
    const before = Math.hypot(was.x - other.x, was.y - other.y);
    const after = Math.hypot(now.x - other.x, now.y - other.y);
    camera.pan((now.x - was.x) / 2, (now.y - was.y) / 2);
    if (before > 0) camera.zoom(after / before, (now.x + other.x) / 2 - box.left, (now.y + other.y) / 2 - box.top);
  }
}
