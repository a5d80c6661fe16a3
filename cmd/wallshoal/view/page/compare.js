// Two works side by side: other seeds, or options of the plan.

import { h, the } from './dom.js';
import { get, latest, Refused } from './api.js';
import { factList } from './figures.js';
import { Picture } from './picture.js';
import { sayWrong } from './say.js';

/** @typedef {{revision: number, state: import('./types.js').State, figures: import('./types.js').Figures, adopt?: boolean}} Compared */

/** One of the two. */
class Side {
  /**
   * @param {HTMLElement} el
   * @param {string} name
   * @param {Comparison} of
   */
  constructor(el, name, of) {
    this.of = of;
    this.what = 'now';
    /** @type {Compared|null} */
    this.shown = null;
    this.select = h('select', { 'aria-label': `${name}: what is shown`, on: { change: () => this.show(this.select.value) } });
    this.before = h('button', { type: 'button', text: '←', 'aria-label': `${name}: seed before`, on: { click: () => this.step(-1) } });
    this.after = h('button', { type: 'button', text: '→', 'aria-label': `${name}: next seed`, on: { click: () => this.step(1) } });
    this.img = h('img', { alt: '' });
    this.facts = h('dl', { class: 'facts' });
    this.note = h('p', { class: 'help', role: 'status' });
    this.take = h('button', { type: 'button', class: 'main', text: 'Take this one', on: { click: () => this.adopt() } });
    el.replaceChildren(h('div', { class: 'bar' }, this.before, this.select, this.after), h('div', { class: 'sight' }, this.img), this.note, this.facts, this.take);
    this.load = latest((/** @type {string} */ what) => this.fetch(what));
  }

  /** @param {string} what `now`, `seed N` or `option NAME` */
  show(what) {
    this.what = what;
    this.fill();
    return this.load(what);
  }

  seed() {
    const [, n] = /^seed (\d+)$/.exec(this.what) || [];
    return n === undefined ? this.of.session.state.seed : Number(n);
  }

  /** @param {number} by */
  step(by) {
    const next = this.seed() + by;
    if (next >= 0) this.show(`seed ${next}`);
  }

  fill() {
    const { seed, options } = this.of.session.state;
    const from = Math.max(0, this.seed() - 3);
    const list = [['now', `as it is now (seed ${seed})`]];
    for (let n = from; n < from + 9; n++) list.push([`seed ${n}`, `seed ${n}`]);
    for (const o of options) list.push([`option ${o}`, `option: ${o}`]);
    this.select.replaceChildren(...list.map(([value, text]) => h('option', { value, text, prop: { selected: value === this.what } })));
  }

  /** @param {string} what */
  async fetch(what) {
    const { session, picture } = this.of;
    this.note.textContent = 'composing …';
    this.take.disabled = true;
    try {
      if (what === 'now') {
        const { state } = session;
        this.shown = { revision: state.revision, state, figures: await get(`/api/figures?revision=${state.revision}`) };
      } else {
        const [kind, ...rest] = what.split(' ');
        this.shown = await get(`/api/compare?${kind}=${encodeURIComponent(rest.join(' '))}`);
      }
      const { revision, figures, adopt } = /** @type {Compared} */ (this.shown);
      const next = h('img', { alt: this.select.selectedOptions[0]?.textContent || what, src: Picture.address(revision, picture.face, picture.look) });
      await next.decode().catch(() => {});
      this.img.replaceWith(next);
      this.img = next;
      this.facts.replaceChildren(...factList(figures, true));
      this.take.disabled = what === 'now' || adopt === false;
      this.note.textContent = adopt === false ? 'To take an option, write into the plan what it names under options:, in place of what stands there; the knobs will do for spacing and the number of pieces.' : '';
    } catch (err) {
      this.shown = null;
      this.facts.replaceChildren();
      this.note.textContent = err instanceof Refused ? `${err.message}${err.fix ? '; ' + err.fix : ''}` : '';
      if (!(err instanceof Refused)) sayWrong(err);
    }
  }

  async adopt() {
    if (!this.shown) return;
    if (await this.of.session.change('/api/adopt', { revision: this.shown.revision })) this.of.dialog.close();
  }
}

export class Comparison {
  /**
   * @param {import('./session.js').Session} session
   * @param {Picture} picture
   */
  constructor(session, picture) {
    this.session = session;
    this.picture = picture;
    this.dialog = the('compare');
    this.sides = [new Side(the('compare-left'), 'left', this), new Side(the('compare-right'), 'right', this)];
    the('open-compare').addEventListener('click', () => this.open());
    // Arrows step the right side, with shift the left.
    this.dialog.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
      if (e.target instanceof HTMLSelectElement || !['ArrowLeft', 'ArrowRight'].includes(e.key)) return;
      e.preventDefault();
      this.sides[e.shiftKey ? 0 : 1].step(e.key === 'ArrowLeft' ? -1 : 1);
    });
  }

  async open() {
    this.dialog.showModal();
    await this.sides[0].show('now');
    await this.sides[1].show(`seed ${this.session.state.seed + 1}`);
  }
}
