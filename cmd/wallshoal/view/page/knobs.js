// The knobs of the plan, by group.

import { h } from './dom.js';
import { gesture, latest, Refused } from './api.js';
import { Row } from './row.js';
import { besideKnob } from './labels.js';
import { say, sayWrong } from './say.js';
import { alike, laidAnew } from './anew.js';

/** @typedef {import('./types.js').Knob} Knob */

/** The groups that are open at first. */
const OPEN = ['how many', 'how close', 'which way'];

export class Knobs {
  /**
   * @param {HTMLElement} box
   * @param {import('./session.js').Session} session
   * @param {(knob: Knob) => void} reveal shows a knob's place on the wall
   * @param {(knob: Knob) => void} bring puts it on the face that is shown
   */
  constructor(box, session, reveal, bring) {
    this.box = box;
    this.session = session;
    this.reveal = reveal;
    this.bring = bring;
    /** @type {Map<string, Row>} */
    this.rows = new Map();
    /** @type {Map<string, HTMLDetailsElement>} */
    this.groups = new Map();
    // One change at a time, and of those that wait the latest: the hand is followed, not queued up behind.
    this.send = latest((/** @type {{knob: Knob, value: string, gesture: string}} */ t) => this.set(t));
    /** @type {(knob: Knob, wrong: string) => void} told what is wrong about what was asked of a knob; nothing, if all is well */
    this.judged = () => {};
    /** @type {(knob: Knob) => void} told of a knob that was turned, once it is seen */
    this.turned = () => {};
    /** @type {{gesture: string|null, state: import('./types.js').State, said: boolean}} the gesture that was last, and what it began from */
    this.begun = { gesture: null, state: session.state, said: false };
    /** @type {Promise<void>} */
    this.last = Promise.resolve();
    session.addEventListener('state', (e) => this.draw(/** @type {CustomEvent} */ (e).detail));
  }

  /**
   * Turns a knob.
   * @param {Knob} knob
   * @param {string} value
   * @param {string} [name] of the gesture
   */
  turn(knob, value, name = gesture()) {
    const row = this.rows.get(knob.id);
    if (row) row.wanted = value;
    return this.last = this.send({ knob, value, gesture: name });
  }

  /** Done once all is known of what was asked for. */
  async rest() {
    await this.last;
  }

  /** Whether something of what was written or asked for is not yet in the plan, nor refused. */
  waits() {
    return [...this.rows.values()].some((row) => row.waits());
  }

  /** Whether something that was refused is still to be seen. */
  refuses() {
    return [...this.rows.values()].some((row) => row.refused >= 0);
  }

  /** @param {Knob} knob which shows again what the picture has */
  wentBack(knob) {
    this.flag();
    this.judged(knob, '');
  }

  /** @param {{knob: Knob, value: string, gesture: string}} t */
  async set(t) {
    const row = this.rows.get(t.knob.id);
    try {
      row?.wait(true);
      // A gesture is one step, and what Undo brings back is what was before all of it.
      if (this.begun.gesture !== t.gesture) this.begun = { gesture: t.gesture, state: this.session.state, said: false };
      const state = await this.session.write('/api/knobs', { gesture: t.gesture, set: [{ knob: t.knob.id, value: t.value }] });
      row?.done(t.value);
      this.judged(t.knob, '');
      const anew = laidAnew(this.begun.state, state);
      if (anew) row?.anew(anew, state.revision);
      if (anew && !this.begun.said) {
        this.begun.said = true;
        say(anew);
      } else {
        this.turned(t.knob);
      }
    } catch (err) {
      if (err instanceof Refused && err.status === 422 && row) {
        if (row.wanted === null) return; // somebody went back from it
        const faults = err.faults.length ? err.faults : [{ file: '', line: 0, field: '', wrong: err.message, fix: err.fix }];
        const wrong = faults.map((f) => besideKnob(f, t.knob)).join('. ');
        row.fault(wrong, this.session.state.revision);
        this.judged(t.knob, wrong);
      } else {
        sayWrong(err);
      }
    } finally {
      row?.wait(false);
      this.flag();
    }
  }

  /** Marks the groups in which something is wrong: one may be closed. */
  flag() {
    for (const group of this.groups.values()) group.classList.toggle('faulted', group.querySelector('.fault:not([hidden])') !== null);
  }

  /** @param {import('./types.js').State} [before] */
  draw(before) {
    const { state } = this.session;
    const still = before && before.laid === state.laid && alike(before.pieces, state.pieces);
    const stale = new Set(this.rows.keys());
    for (const knob of state.knobs) {
      stale.delete(knob.id);
      let row = this.rows.get(knob.id);
      if (row && row.type !== knob.type) {
        row.el.remove();
        row = undefined;
      }
      if (!row) {
        row = new Row(knob, this);
        this.rows.set(knob.id, row);
        this.group(knob.group).append(row.el);
      }
      if (still && row.laid === before.revision) row.laid = state.revision; // it is said of the same pieces
      row.settle(state.revision);
      row.show(knob);
    }
    for (const id of stale) {
      this.rows.get(id)?.el.remove();
      this.rows.delete(id);
    }
    for (const group of this.groups.values()) {
      group.hidden = group.children.length < 2;
      // What helps with several knobs in a row is shown once.
      let before = '';
      for (const help of group.querySelectorAll('.help')) {
        help.classList.toggle('unseen', help.textContent === before);
        before = help.textContent || '';
      }
    }
    this.flag();
  }

  /** @param {string} name */
  group(name) {
    let group = this.groups.get(name);
    if (!group) {
      group = /** @type {HTMLDetailsElement} */ (h('details', { class: 'group', open: OPEN.includes(name) }, h('summary', {}, h('h3', { text: name }))));
      this.groups.set(name, group);
      this.box.append(group);
    }
    return group;
  }
}
