// One knob of the plan: its controls, and what is wrong about what was asked of it.

import { h } from './dom.js';
import { gesture } from './api.js';
import { notation, said } from './units.js';

/** @typedef {import('./types.js').Knob} Knob */

const SLID = new Set(['whole', 'number', 'length', 'percent', 'degrees']);

let numbered = 0;

/** One knob. */
export class Row {
  /**
   * @param {Knob} knob
   * @param {import('./knobs.js').Knobs} knobs
   */
  constructor(knob, knobs) {
    this.knobs = knobs;
    this.knob = knob;
    this.type = knob.type;
    this.sliding = false;
    /** @type {Promise<void>|null} */
    this.asked = null; // done when the slider's last value is
    this.slid = -Infinity; // when it last was
    this.typed = false;
    this.name = '';
    this.laid = -1; // the revision of which it is said that it was laid anew
    this.refused = -1; // the revision at which what was asked was refused
    this.measure = ''; // what the slider's scale is in
    /** @type {string|null} */
    this.wanted = null; // the value that was last asked for, until somebody goes back from it
    const id = `knob-${++numbered}`;
    const described = `${id}-help ${id}-anew ${id}-remark ${id}-fault`;
    this.label = h('label', { for: id, text: knob.label });
    this.usual = h('button', { type: 'button', class: 'usual', on: { click: () => {
      this.typed = false;
      if (this.field) this.field.value = notation(this.knob, this.knob.usual);
      this.turn('');
    } } });
    this.help = h('p', { class: 'help', id: `${id}-help` });
    this.remark = h('p', { class: 'remark', id: `${id}-remark`, hidden: true });
    this.news = h('p', { class: 'anew', id: `${id}-anew`, hidden: true }); // read out where it is seen first, over the picture
    this.back = h('button', { type: 'button', class: 'back', title: 'Esc', on: { click: () => this.goBack() } });
    this.wrong = h('p', { class: 'fault', id: `${id}-fault`, role: 'alert', hidden: true });
    this.controls = h('div', { class: 'controls' });
    this.el = h('div', { class: `knob ${knob.type}` }, this.head = h('div', { class: 'head' }, this.label), this.controls, h('div', { class: 'foot' }, this.help, this.usual), this.news, this.remark, this.wrong);
    this.el.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
      if (e.key !== 'Escape' || !this.typed && this.refused < 0) return;
      e.stopPropagation();
      this.goBack();
    });
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
        this.field.value = notation(this.knob, value);
        this.asked = this.turn(value, this.name);
      },
      change: () => this.letGo(),
      pointerup: () => this.letGo(), // where it began: then nothing has changed
      blur: () => this.letGo(),
    } });
    this.controls.append(this.range);
    this.text(id, described);
    this.unit = h('span', { class: 'unit' });
    this.head.append(this.field, this.unit);
  }

  /** The slider is let go. Until all is done that was asked for, what comes is older than where the thumb is. */
  letGo() {
    const { asked } = this;
    asked?.finally(() => {
      if (asked !== this.asked || !this.sliding) return;
      this.sliding = false;
      this.show(this.knob);
      this.settled();
    });
  }

  /**
   * @param {string} id
   * @param {string} described
   */
  text(id, described) {
    this.field = h('input', { type: 'text', id, autocomplete: 'off', spellcheck: 'false', 'aria-describedby': described, on: {
      input: () => { this.typed = true; },
      change: () => { if (this.typed) this.turn(this.field.value); },
      // What was typed and typed back is no change, and nobody hears of it.
      blur: () => { if (this.typed && this.refused < 0 && this.field.value === notation(this.knob, this.knob.value)) this.goBack(); },
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
      h('button', { ...labelled, class: 'bring', text: 'put it in the middle of this wall', on: { click: () => this.knobs.bring(this.knob) } }));
  }

  /**
   * @param {string} value
   * @param {string} [name]
   */
  turn(value, name) {
    return this.knobs.turn(this.knob, value, name);
  }

  /**
   * Shows a value, unless somebody is at it.
   * @param {Knob} knob
   */
  show(knob) {
    this.knob = knob;
    this.label.textContent = knob.label;
    this.help.textContent = knob.help;
    const placed = knob.type === 'place' || knob.type === 'path';
    const usual = said(knob, knob.usual);
    this.usual.hidden = !knob.given || Boolean(knob.needed);
    const seed = /(^|\.)seed$/.test(knob.id); // no seed is more usual than another
    this.usual.textContent = placed ? 'take it away' : seed ? `begin again at ${usual}` : `back to the usual: ${usual}`;
    this.usual.title = placed ? 'The work without it, and without its strength and its reach. Undo brings it back.' : `what holds where the plan says nothing: ${usual}`;
    this.usual.setAttribute('aria-label', `${this.usual.textContent}, ${knob.label}`);
    this.el.classList.toggle('given', knob.given);
    // What was refused stays where it was written, beside the reason and what the picture has.
    const stays = this.refused >= 0;
    this.remark.textContent = knob.remark || '';
    this.remark.hidden = !knob.remark || stays;
    this.back.textContent = `Keep ${said(knob, knob.value)}`;
    if (stays) return;
    if (this.range && !this.sliding) this.scale(knob);
    if (this.field && !this.typed && !this.sliding) this.field.value = notation(knob, knob.value);
    this.field?.classList.toggle('long', this.field.value.length > 8); // a large seed is seen whole
    if (this.unit) this.unit.textContent = knob.type === 'degrees' ? '°' : knob.type === 'length' && !/[a-z'"]/i.test(this.field.value) ? knob.unit : '';
    if (this.select) {
      const choices = knob.choices || [];
      const all = choices.includes(knob.value) ? choices : [knob.value, ...choices];
      this.select.replaceChildren(...all.map((c) => h('option', { value: c, text: c, prop: { selected: c === knob.value } })));
    }
    if (this.box) this.box.checked = knob.value === 'true';
  }

  /**
   * Sets the slider. Its scale stays while the value is on it: the thumb is not to move by itself.
   * @param {Knob} knob
   */
  scale(knob) {
    const value = knob.number ?? knob.min;
    const measure = `${knob.unit} ${knob.step}`;
    // A slider moves by numbers that are not exact any more: such a value is written.
    const far = Math.abs(value) > Number.MAX_SAFE_INTEGER;
    this.range.title = far ? 'too large a number for the slider: write it beside the name' : '';
    if (far) {
      this.range.disabled = true;
      return;
    }
    if (this.measure !== measure || this.range.disabled || value < Number(this.range.min) || value > Number(this.range.max)) {
      const kept = this.measure === measure && !this.range.disabled;
      this.range.min = kept ? Math.min(Number(this.range.min), knob.min, value) : knob.min;
      this.range.max = kept ? Math.max(Number(this.range.max), knob.max, value) : knob.max;
      this.range.step = knob.step || 'any';
      this.range.disabled = knob.max <= knob.min;
      this.measure = measure;
    }
    this.range.value = value;
  }

  /**
   * Forgets what was refused once the plan is another: its reason may be gone, and the control shows what is.
   * @param {number} revision
   */
  settle(revision) {
    if (this.laid !== revision) this.anew('');
    if (this.refused < 0 || this.refused === revision) return;
    this.typed = false;
    this.fault('');
  }

  /**
   * Says what this knob did where hands had been at the work.
   * @param {string} text nothing, if there is nothing to say
   * @param {number} [revision] of which it is said
   */
  anew(text, revision = -1) {
    this.laid = text ? revision : -1;
    this.news.textContent = text;
    this.news.hidden = !text;
  }

  /** @param {boolean} on */
  wait(on) {
    this.el.toggleAttribute('aria-busy', on);
  }

  /**
   * Says what is wrong; what was asked for stays to be seen.
   * @param {string} text
   * @param {number} [revision] of what is shown
   */
  fault(text, revision = -1) {
    this.refused = text ? revision : -1;
    this.wrong.hidden = !text;
    const control = this.field || this.select || this.box;
    const has = control && text ? [` The picture still shows ${said(this.knob, this.knob.value)}. `, this.back] : [];
    this.wrong.replaceChildren(...text ? [`${text}.`, ...has] : []);
    if (control) control.setAttribute('aria-invalid', String(Boolean(text)));
    this.range?.classList.toggle('refused', Boolean(text));
    this.remark.hidden = !this.knob.remark || Boolean(text);
    this.settled();
  }

  /** Goes back to what the picture has. */
  goBack() {
    const held = this.wrong.contains(document.activeElement);
    this.wanted = null;
    this.typed = false;
    this.sliding = false;
    this.fault('');
    this.show(this.knob);
    this.knobs.wentBack(this.knob);
    if (held) (this.range || this.field || this.select || this.box).focus();
  }

  /** Whether something was asked for, or is being written, of which it is not known what becomes. */
  waits() {
    return (this.typed || this.sliding) && this.refused < 0;
  }

  /** Tells whoever wants to know whether something waits. */
  settled() {
    this.el.dispatchEvent(new Event('settled', { bubbles: true }));
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
    this.settled();
  }
}
