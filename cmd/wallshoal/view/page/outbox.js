// What was done while nobody answered: kept on this device, and sent in order once somebody does.

import { post, Refused, Unreachable } from './api.js';

const KEY = 'wallshoal outbox';

/** @typedef {{do: string, pieces?: number[], stand?: number, hands?: number}} Deed */
/** @typedef {{fingerprint: string, deed: Deed}} Waiting */

/** Events: `sent` (detail: the stands as they are then), `lost`, `found`, `refused` (detail: the error). */
export class Outbox extends EventTarget {
  constructor() {
    super();
    /** @type {Waiting[]} */
    this.waiting = [];
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) || '[]');
      if (Array.isArray(kept)) this.waiting = kept.filter((w) => w && w.deed && typeof w.deed.do === 'string');
    } catch {
      // What cannot be read is gone; the file beside the plan is what counts.
    }
    /** @type {Promise<void>|null} */
    this.busy = null;
    this.lost = false;
    addEventListener('online', () => this.flush());
  }

  /** @param {Waiting} what */
  add(what) {
    this.waiting.push(what);
    this.keep();
    return this.flush();
  }

  keep() {
    try {
      localStorage.setItem(KEY, JSON.stringify(this.waiting));
    } catch {
      // A device that keeps nothing still sends what is in hand.
    }
  }

  /** Sends what waits. */
  flush() {
    if (!this.busy) {
      this.busy = this.send().finally(() => {
        this.busy = null;
      });
    }
    return this.busy;
  }

  async send() {
    while (this.waiting.length > 0) {
      const [first] = this.waiting;
      try {
        const stands = await post('/api/progress', first.deed);
        this.drop(first);
        this.connected(true);
        this.dispatchEvent(new CustomEvent('sent', { detail: stands }));
      } catch (err) {
        if (err instanceof Unreachable) {
          this.connected(false);
          return;
        }
        // Of another run, or of a layout that is no more: it can only be told, not tried for ever. A page of another
        // run keeps what waits until it is loaded again.
        if (!(err instanceof Refused) || err.status === 403 || err.status === 401) {
          this.dispatchEvent(new CustomEvent('refused', { detail: err }));
          return;
        }
        this.drop(first);
        this.dispatchEvent(new CustomEvent('refused', { detail: err }));
      }
    }
  }

  /** @param {Waiting} what */
  drop(what) {
    this.waiting = this.waiting.filter((w) => w !== what);
    this.keep();
  }

  /** @param {boolean} is */
  connected(is) {
    if (is === !this.lost) return;
    this.lost = !is;
    this.dispatchEvent(new Event(is ? 'found' : 'lost'));
  }
}
