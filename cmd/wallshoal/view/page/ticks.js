// What was ticked on this device, for the last of it to be undone after a reload too.

const KEY = 'wallshoal ticks';
const MOST = 100;

/** @typedef {{do: 'up'|'down', piece: number, fingerprint: string}} Tick */

export class Ticks {
  constructor() {
    /** @type {Tick[]} */
    this.list = [];
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) || '[]');
      if (Array.isArray(kept)) this.list = kept.filter((t) => t && (t.do === 'up' || t.do === 'down') && typeof t.piece === 'number');
    } catch {
      // What cannot be read cannot be undone here; the list of pieces still can.
    }
  }

  /** @param {Tick} tick */
  add(tick) {
    this.list = [...this.list, tick].slice(-MOST);
    this.keep();
  }

  /** Takes the last one away, and returns it. */
  take() {
    const last = this.list.pop();
    this.keep();
    return last;
  }

  /**
   * The last tick that still stands. Those of another layout, and those that somebody took back, are dropped.
   * @param {string} fingerprint of the layout
   * @param {Map<number, boolean>} up which pieces are
   * @returns {Tick|undefined}
   */
  last(fingerprint, up) {
    let last = this.list.at(-1);
    while (last && (last.fingerprint !== fingerprint || up.get(last.piece) !== (last.do === 'up'))) {
      this.list.pop();
      last = this.list.at(-1);
    }
    return last;
  }

  keep() {
    try {
      localStorage.setItem(KEY, JSON.stringify(this.list));
    } catch {
      // They last as long as the page then.
    }
  }
}
