// What is said of the pieces that are picked: where their ghost is, or where they are.

import { post, latest, Refused } from './api.js';

/** @typedef {import('./types.js').Said} Said */
/** @typedef {import('./hand.js').Put} Put */

/** @type {Said} */
const NOTHING = { flaws: [], cautions: [], rid: [], past: 0 };

/** Events: `said` after something else is said, or may be. */
export class Judge extends EventTarget {
  /** @param {import('./picture.js').Picture} picture */
  constructor(picture) {
    super();
    this.picture = picture;
    this.said = NOTHING;
    this.known = true; // whether that is said of these pieces, though they may have moved on meanwhile
    this.subject = ''; // what was asked about
    this.of = ''; // the pieces in it
    this.turn = 0; // another for every subject
    this.send = latest((/** @type {{turn: number, changes: object[]}} */ what) => this.ask(what));
  }

  /**
   * Asks what is said of pieces once they are put elsewhere.
   * @param {Put[]} puts
   */
  moved(puts) {
    this.begin(`moved ${this.picture.face}`, puts.map((p) => p.id));
    return this.send({ turn: this.turn, changes: puts.map((p) => ({ id: p.id, face: this.picture.face, at: p.at, heading: p.heading, kind: p.kind })) });
  }

  /**
   * Asks what is said of pieces where they are.
   * @param {number[]} ids
   */
  still(ids) {
    if (!this.begin(`still ${this.picture.state?.revision}`, ids)) return;
    if (ids.length > 0) this.send({ turn: this.turn, changes: ids.map((id) => ({ id })) });
  }

  /**
   * Reports whether this is another subject. What was said of the same pieces stays until more is known.
   * @param {string} how
   * @param {number[]} ids
   */
  begin(how, ids) {
    const of = ids.join(' ');
    const subject = `${how}: ${of}`;
    if (subject === this.subject) return false;
    this.subject = subject;
    this.turn++;
    this.known = ids.length === 0;
    if (of !== this.of || ids.length === 0) this.said = NOTHING;
    this.of = of;
    this.dispatchEvent(new Event('said'));
    return true;
  }

  /** @param {{turn: number, changes: object[]}} what */
  async ask({ turn, changes }) {
    if (turn !== this.turn) return;
    /** @type {Said} */
    let said;
    try {
      said = await post('/api/try', { changes });
    } catch (err) {
      if (!(err instanceof Refused)) return;
      said = { ...NOTHING, flaws: [{ piece: 0, other: 0, wrong: err.message, back: err.message, fix: err.fix, hole: false }] };
    }
    if (turn !== this.turn) return;
    this.said = said;
    this.known = true;
    this.dispatchEvent(new Event('said'));
  }
}
