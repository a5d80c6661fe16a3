// What was done while nobody answered: kept on this device, and sent in order once somebody does.

import { post, cut } from './api.js';

const KEY = 'wallshoal outbox';

/** @typedef {{do: string, pieces?: number[], stand?: number, hands?: number}} Deed */
/** @typedef {{fingerprint: string, deed: Deed}} Waiting */

/** Events: `sent` (detail: the stands as they are then), `lost` (detail: why), `found`, `refused` (detail: the error). */
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
    this.lost = ''; // why nothing is sent
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
        this.connected('');
        this.dispatchEvent(new CustomEvent('sent', { detail: stands }));
      } catch (err) {
        // A page of another run keeps what waits until it is loaded again.
        if (cut(err)) {
          this.connected(cut(err));
          return;
        }
        // Of a layout that is no more: it can only be told, not tried for ever.
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

  /** @param {string} why nothing is sent; empty if it is */
  connected(why) {
    if (why === this.lost) return;
    this.lost = why;
    this.dispatchEvent(new CustomEvent(why ? 'lost' : 'found', { detail: why }));
  }
}
