// The knobs of the plan, by group.

import { h } from './dom.js';
import { gesture, latest, Refused } from './api.js';
import { sayWrong } from './say.js';

/** @typedef {import('./types.js').Knob} Knob */

const SLID = new Set(['whole', 'number', 'length', 'percent', 'degrees']);

/** What the groups are called. */
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
    session.addEventListener('state', () => this.draw());
  }

  /**
   * Turns a knob.
   * @param {Knob} knob
   * @param {string} value
   * @param {string} [name] of the gesture
   */
  turn(knob, value, name = gesture()) {
    return this.send({ knob, value, gesture: name });
  }

  /** @param {{knob: Knob, value: string, gesture: string}} t */
  async set(t) {
    const row = this.rows.get(t.knob.id);
    try {
      row?.wait(true);
      await this.session.write('/api/knobs', { gesture: t.gesture, set: [{ knob: t.knob.id, value: t.value }] });
      row?.done(t.value);
    } catch (err) {
      if (err instanceof Refused && err.status === 422 && row) {
        const faults = err.faults.length ? err.faults : [{ field: '', wrong: err.message, fix: err.fix }];
        row.fault(faults.map((f) => `${f.field && f.field !== t.knob.id ? f.field + ' ' : ''}${f.wrong}${f.fix ? '; ' + f.fix : ''}`).join('. '));
      } else {
        sayWrong(err);
      }
    } finally {
      row?.wait(false);
    }
  }

  draw() {
    const stale = new Set(this.rows.keys());
    for (const knob of this.session.state.knobs) {
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

let numbered = 0;

/** One knob. */
class Row {
  /**
   * @param {Knob} knob
   * @param {Knobs} knobs
   */
  constructor(knob, knobs) {
    this.knobs = knobs;
    this.knob = knob;
    this.type = knob.type;
    this.sliding = false;
    this.slid = -Infinity; // when it last was
    this.typed = false;
    this.name = '';
    const id = `knob-${++numbered}`;
    const described = `${id}-help ${id}-fault`;
    this.label = h('label', { for: id, text: knob.label });
    this.usual = h('button', { type: 'button', class: 'usual', text: 'usual', title: 'take it out of the plan', on: { click: () => { this.typed = false; this.turn(''); } } });
    this.help = h('p', { class: 'help', id: `${id}-help` });
    this.wrong = h('p', { class: 'fault', id: `${id}-fault`, role: 'alert', hidden: true });
    this.controls = h('div', { class: 'controls' });
    this.el = h('div', { class: `knob ${knob.type}` }, this.head = h('div', { class: 'head' }, this.label, this.usual), this.controls, this.help, this.wrong);
    if (SLID.has(knob.type)) this.slider(id, described);
    else if (knob.type === 'choice') this.choice(id, described);
    else if (knob.type === 'switch') this.toggle(id, described);
    else if (knob.type === 'place' || knob.type === 'path') this.place(id, described);
    else this.text(id, described);
  }

  /**
   * @param {string} id
   * @param {string} described
   */
  slider(id, described) {
    this.range = h('input', { type: 'range', 'aria-label': `${this.knob.label}, slider`, 'aria-describedby': described, on: {
      input: () => {
        // Keys come one by one, and still are one gesture.
        if (!this.sliding && performance.now() - this.slid > 1000) this.name = gesture();
        this.sliding = true;
        this.slid = performance.now();
        this.typed = false;
        const value = this.knob.type === 'percent' ? `${this.range.value} %` : this.range.value;
        this.field.value = value;
        this.turn(value, this.name);
      },
      change: () => { this.sliding = false; },
    } });
    this.controls.append(this.range);
    this.text(id, described);
    this.unit = h('span', { class: 'unit' });
    this.usual.before(this.field, this.unit);
  }

  /**
   * @param {string} id
   * @param {string} described
   */
  text(id, described) {
    this.field = h('input', { type: 'text', id, autocomplete: 'off', spellcheck: 'false', 'aria-describedby': described, on: {
      input: () => { this.typed = true; },
      change: () => { if (this.typed) this.turn(this.field.value); },
      keydown: (/** @type {KeyboardEvent} */ e) => {
        if (e.key === 'Escape' && this.typed) {
          this.typed = false;
          this.fault('');
          this.show(this.knob);
        }
      },
    } });
    this.controls.append(this.field);
  }

  /**
   * @param {string} id
   * @param {string} described
   */
  choice(id, described) {
    this.select = h('select', { id, 'aria-describedby': described, on: { change: () => this.turn(this.select.value) } });
    this.controls.append(this.select);
  }

  /**
   * @param {string} id
   * @param {string} described
   */
  toggle(id, described) {
    this.box = h('input', { type: 'checkbox', id, 'aria-describedby': described, on: { change: () => this.turn(String(this.box.checked)) } });
    this.controls.append(this.box);
    this.head.prepend(this.controls);
  }

  /**
   * @param {string} id
   * @param {string} described
   */
  place(id, described) {
    this.label.removeAttribute('for');
    this.label.id = id;
    const labelled = { type: 'button', 'aria-describedby': `${id} ${described}` };
    this.controls.append(
      h('button', { ...labelled, text: 'show on the wall', on: { click: () => this.knobs.reveal(this.knob) } }),
      h('button', { ...labelled, class: 'bring', text: 'put it in the middle here', on: { click: () => this.knobs.bring(this.knob) } }));
  }

  /**
   * @param {string} value
   * @param {string} [name]
   */
  turn(value, name) {
    this.knobs.turn(this.knob, value, name);
  }

  /**
   * Shows a value, unless somebody is at it.
   * @param {Knob} knob
   */
  show(knob) {
    this.knob = knob;
    this.label.textContent = knob.label;
    this.help.textContent = knob.help;
    this.usual.classList.toggle('away', !knob.given); // its room stays, for all fields to be in line
    this.el.classList.toggle('given', knob.given);
    if (this.range && !this.sliding) {
      this.range.min = knob.min;
      this.range.max = knob.max;
      this.range.step = knob.step || 'any';
      this.range.disabled = knob.max <= knob.min;
      this.range.value = knob.number ?? knob.min;
    }
    if (this.field && !this.typed && !this.sliding) this.field.value = knob.value;
    if (this.unit) this.unit.textContent = knob.type === 'degrees' ? '°' : knob.type === 'length' && !/[a-z'"]/i.test(this.field.value) ? knob.unit : '';
    if (this.select) {
      const choices = knob.choices || [];
      const all = choices.includes(knob.value) ? choices : [knob.value, ...choices];
      this.select.replaceChildren(...all.map((c) => h('option', { value: c, text: c, prop: { selected: c === knob.value } })));
    }
    if (this.box) this.box.checked = knob.value === 'true';
  }

  /** @param {boolean} on */
  wait(on) {
    this.el.toggleAttribute('aria-busy', on);
  }

  /**
   * Says what is wrong; what was typed stays.
   * @param {string} text
   */
  fault(text) {
    this.wrong.textContent = text;
    this.wrong.hidden = !text;
    const control = this.field || this.select || this.box;
    if (control) control.setAttribute('aria-invalid', String(Boolean(text)));
  }

  /**
   * It is as was asked. What was typed since stays.
   * @param {string} value
   */
  done(value) {
    this.fault('');
    if (this.field && this.typed && this.field.value !== value) return;
    this.typed = false;
    this.show(this.knob);
  }
}
