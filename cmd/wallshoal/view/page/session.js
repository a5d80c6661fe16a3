// What is shown, and the changes that are made to it: one at a time, in order.

import { get, post, cut, foreign, Refused } from './api.js';
import { learn, spoken } from './labels.js';
import { sayWrong } from './say.js';

/** @typedef {import('./types.js').State} State */

/**
 * Events: `state` after every new state (detail: the state before), `lost` and `found` as the connection goes and
 * comes back (detail: why), `busy` as changes begin and end, `outside` for what happened to the file.
 */
export class Session extends EventTarget {
  constructor() {
    super();
    /** @type {State} */
    this.state = /** @type {any} */ (null);
    /** @type {((state: State) => Promise<unknown>)[]} what shows a state; the next change waits for it */
    this.painters = [];
    /** @type {Promise<unknown>} */
    this.line = Promise.resolve();
    this.writing = 0;
    this.timer = 0;
    this.lost = ''; // why there is no going on
    /** @type {(what: string) => Promise<boolean>} asks whether what hangs is taken down for a change */
    this.asks = () => Promise.resolve(false);
  }

  /** Asks for the state as it is now, after the changes under way. */
  refresh() {
    const done = this.line.then(async () => {
      try {
        const state = await get('/api/state');
        if (!foreign(this.lost)) this.connected('');
        await this.take(state);
      } catch (err) {
        if (cut(err)) this.connected(cut(err));
        else sayWrong(err);
      }
    });
    this.line = done.catch(() => {});
    return done;
  }

  /** Asks soon, once nothing is being changed: what is heard then is mostly one's own doing. */
  refreshSoon() {
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => (this.writing > 0 ? this.refreshSoon() : this.refresh()), 200);
  }

  /**
   * Changes something and takes the state that comes of it. The error is passed on.
   * @param {string} path
   * @param {object} body
   * @returns {Promise<State>}
   */
  write(path, body) {
    this.writing++;
    this.dispatchEvent(new Event('busy'));
    const done = this.line.then(async () => {
      try {
        const state = await post(path, body);
        this.connected('');
        await this.take(state);
        return state;
      } catch (err) {
        if (cut(err)) this.connected(cut(err));
        throw err;
      } finally {
        this.writing--;
        this.dispatchEvent(new Event('busy'));
      }
    });
    this.line = done.catch(() => {});
    return done;
  }

  /**
   * As write, and says what went wrong. Where it would take down what hangs, it asks first.
   * @param {string} path
   * @param {object} body
   * @returns {Promise<State|null>}
   */
  async change(path, body) {
    try {
      return await this.write(path, body);
    } catch (err) {
      if (err instanceof Refused && err.hangs) return await this.asks(err.message) ? this.change(path, { ...body, down: true }) : null;
      if (!(err instanceof Refused && err.outside)) sayWrong(err);
      return null;
    }
  }

  /**
   * @param {State} state
   */
  async take(state) {
    const before = this.state;
    if (before && before.run !== state.run) {
      this.anew();
      return;
    }
    learn(state.knobs);
    state.faults = state.faults.map(spoken);
    this.state = state;
    this.dispatchEvent(new CustomEvent('state', { detail: before }));
    await Promise.all(this.painters.map((paint) => paint(state)));
  }

  /** The program was started anew: loaded again the page is of this run, and what was not saved is gone with the one before. */
  anew() {
    this.state.saved = true; // there is nothing left that leaving could lose
    location.reload();
  }

  /** Listens for what others change. The browser connects again by itself. */
  listen() {
    const events = new EventSource('/api/events');
    // What changed before anybody listened is asked for once somebody does.
    events.addEventListener('open', () => (this.lost ? this.refresh() : this.refreshSoon()));
    for (const name of ['state', 'outside', 'faults']) events.addEventListener(name, () => this.refreshSoon());
    events.addEventListener('progress', () => this.dispatchEvent(new Event('progress')));
    events.addEventListener('error', () => {
      this.refresh(); // and so finds out why
      // One that was refused stays closed.
      if (events.readyState === EventSource.CLOSED) setTimeout(() => this.listen(), 3000);
    });
  }

  /** @param {string} why there is no going on; empty if there is */
  connected(why) {
    if (why === this.lost) return;
    this.lost = why;
    this.dispatchEvent(new CustomEvent(why ? 'lost' : 'found', { detail: why }));
  }
}
