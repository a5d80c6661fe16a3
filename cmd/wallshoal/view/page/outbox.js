// What was done while nobody answered: kept on this device, and sent in order once somebody does.

import { postAnew, cut, gesture, Refused } from './api.js';

const KEY = 'wallshoal outbox';

/** @typedef {{do: string, pieces?: number[], marks?: string[], stand?: number, hands?: number, minutes?: number}} Deed */
/** @typedef {{id: string, at: number, fingerprint: string, deed: Deed}} Waiting at is when it was done, ms */

/**
 * Events: `sent` (detail: the stands as they are then), `lost` (detail: why), `found`, `refused` (detail: the error),
 * `overtaken` as another layout is shown than the one that was asked for, `changed` as another tab sent or added something.
 */
export class Outbox extends EventTarget {
  constructor() {
    super();
    /** @type {Waiting[]} where the device keeps nothing */
    this.held = [];
    this.keeps = true; // the device keeps what waits
    this.fingerprint = ''; // of the layout that is shown: what is of another waits for that
    /** @type {Promise<void>|null} */
    this.busy = null;
    this.lost = ''; // why nothing is sent
    this.write(this.waiting);
    addEventListener('online', () => this.flush());
    addEventListener('storage', (e) => {
      if (e.key === KEY) this.dispatchEvent(new Event('changed'));
    });
  }

  /**
   * What waits. Tabs share it: one of an earlier run may be open still, and nothing is sent twice for that.
   * @returns {Waiting[]}
   */
  get waiting() {
    if (!this.keeps) return this.held;
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) || '[]');
      if (!Array.isArray(kept)) return [];
      return kept.filter((w) => w && w.deed && typeof w.deed.do === 'string').map((w) => ({ ...w, id: w.id || gesture(), at: w.at || Date.now() }));
    } catch {
      return this.held; // what cannot be read is gone; the file beside the plan is what counts
    }
  }

  /** What waits for another layout to be shown than the one that is. */
  get elsewhere() {
    return this.waiting.filter((w) => w.fingerprint !== this.fingerprint);
  }

  /** @param {Waiting[]} waiting */
  write(waiting) {
    this.held = waiting;
    try {
      localStorage.setItem(KEY, JSON.stringify(waiting));
      this.keeps = true;
    } catch {
      this.keeps = false; // it lasts as long as the page then
    }
  }

  /**
   * @param {string} fingerprint of the layout that it is about
   * @param {Deed} deed
   */
  add(fingerprint, deed) {
    this.write([...this.waiting, { id: gesture(), at: Date.now(), fingerprint, deed }]);
    return this.flush();
  }

  /** Forgets what waits for another layout. */
  forget() {
    this.write(this.waiting.filter((w) => w.fingerprint === this.fingerprint));
  }

  /** Sends what waits: one tab at a time, where the browser can hold the others. */
  flush() {
    if (!this.busy) {
      this.busy = Promise.resolve(navigator.locks ? navigator.locks.request(KEY, () => this.send()) : this.send()).finally(() => {
        this.busy = null;
      });
    }
    return this.busy;
  }

  async send() {
    for (;;) {
      const first = this.waiting.find((w) => w.fingerprint === this.fingerprint);
      if (!first) return;
      try {
        const stands = await postAnew('/api/progress', { ...first.deed, layout: first.fingerprint, ago: Math.max(0, (Date.now() - first.at) / 1000) });
        this.drop(first);
        this.connected('');
        this.dispatchEvent(new CustomEvent('sent', { detail: stands }));
      } catch (err) {
        if (err instanceof Refused && err.layout) {
          this.dispatchEvent(new Event('overtaken'));
          return;
        }
        // Whatever else it is than a tick of nothing, the tick is worth asking again.
        if (!(err instanceof Refused) || err.status !== 422) {
          this.connected(cut(err) || `The program cannot keep ticks just now: ${err instanceof Error ? err.message : err}.`);
          return;
        }
        // Of nothing that there is: it can only be told, not tried for ever.
        this.drop(first);
        this.dispatchEvent(new CustomEvent('refused', { detail: err }));
      }
    }
  }

  /** @param {Waiting} what */
  drop(what) {
    this.write(this.waiting.filter((w) => w.id !== what.id));
  }

  /** @param {string} why nothing is sent; empty if it is */
  connected(why) {
    if (why === this.lost) return;
    this.lost = why;
    this.dispatchEvent(new CustomEvent(why ? 'lost' : 'found', { detail: why }));
  }
}
