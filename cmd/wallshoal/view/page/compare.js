// Two works side by side: other seeds, or options of the plan.

import { h, the } from './dom.js';
import { get, latest, Refused } from './api.js';
import { factList } from './figures.js';
import { Picture } from './picture.js';
import { say, sayWrong } from './say.js';
import { laidAnew } from './anew.js';

/** @typedef {{revision: number, state: import('./types.js').State, figures: import('./types.js').Figures, refused?: string, note?: string}} Compared */

/**
 * Whether a number can be a seed: one of 64 bits.
 * @param {bigint} n
 */
function isSeed(n) {
  return n >= 0n && n < 1n << 64n;
}

/** One of the two. */
class Side {
  /**
   * @param {HTMLElement} el
   * @param {string} name
   * @param {Comparison} of
   */
  constructor(el, name, of) {
    this.of = of;
    this.name = name;
    this.what = 'now';
    /** @type {Compared|null} */
    this.shown = null;
    this.select = h('select', { 'aria-label': `${name}: what is shown`, on: { change: () => this.show(this.select.value) } });
    this.before = h('button', { type: 'button', text: '←', 'aria-label': `${name}: the one before`, on: { click: () => this.step(-1) } });
    this.after = h('button', { type: 'button', text: '→', 'aria-label': `${name}: the next one`, on: { click: () => this.step(1) } });
    this.img = h('img', { alt: '' });
    this.facts = h('dl', { class: 'facts' });
    this.note = h('p', { class: 'help', role: 'status' });
    this.take = h('button', { type: 'button', class: 'main', text: 'Take this one', on: { click: () => this.adopt() } });
    el.replaceChildren(h('div', { class: 'bar' }, this.before, this.select, this.after), h('div', { class: 'sight' }, this.img), this.facts, this.note, this.take);
    this.load = latest((/** @type {string} */ what) => this.fetch(what));
  }

  /** @param {string} what `now`, `seed N` or `option NAME` */
  show(what) {
    this.what = what;
    for (const side of this.of.sides) side.fill();
    return this.load(what);
  }

  /** What the other one shows. */
  beside() {
    return this.of.sides[this === this.of.sides[0] ? 1 : 0].what;
  }

  seed() {
    const [, n] = /^seed (\d+)$/.exec(this.what) || [];
    return BigInt(n ?? this.of.session.state.seed);
  }

  /**
   * Goes on among the seeds, or among the options where one is shown, past what is shown already.
   * @param {number} by
   */
  step(by) {
    const { seed, options } = this.of.session.state;
    const seen = [this.what, this.beside(), `seed ${seed}`];
    const at = options.indexOf(this.what.replace(/^option /, ''));
    if (this.what.startsWith('option ') && at >= 0) {
      let i = at + by;
      while (i in options && seen.includes(`option ${options[i]}`)) i += by;
      if (i in options) this.show(`option ${options[i]}`);
      else this.note.textContent = `There is no option ${by > 0 ? 'after' : 'before'} this one that is not shown beside it.`;
      return;
    }
    let n = this.seed() + BigInt(by);
    while (isSeed(n) && seen.includes(`seed ${n}`)) n += BigInt(by);
    if (isSeed(n)) this.show(`seed ${n}`);
    else this.note.textContent = `There is no ${by > 0 ? 'higher' : 'lower'} seed that is not shown already.`;
  }

  fill() {
    const { seed, options } = this.of.session.state;
    const least = this.seed() - 3n;
    const from = least < 0n ? 0n : least;
    const list = [['now', `as it is now (seed ${seed})`]];
    for (let n = from; n < from + 9n && isSeed(n); n++) list.push([`seed ${n}`, `seed ${n}`]);
    for (const o of options) list.push([`option ${o}`, `option: ${o}`]);
    const beside = this.beside();
    this.select.replaceChildren(...list.map(([value, text]) => h('option', {
      value, text: value === beside ? `${text}, shown beside it` : text, disabled: value === beside && value !== this.what, prop: { selected: value === this.what },
    })));
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
      const { revision, figures, refused, note } = /** @type {Compared} */ (this.shown);
      const next = h('img', { alt: this.select.selectedOptions[0]?.textContent || what, src: Picture.address(revision, picture.face, picture.look) });
      await next.decode().catch(() => {});
      this.img.replaceWith(next);
      this.img = next;
      this.facts.replaceChildren(...factList(figures, true));
      this.take.disabled = what === 'now' || Boolean(refused);
      this.note.textContent = refused ? `This one cannot be taken: ${refused}.` : note || '';
    } catch (err) {
      this.shown = null;
      this.facts.replaceChildren();
      this.note.textContent = err instanceof Refused ? `${err.message}${err.fix ? '; ' + err.fix : ''}` : '';
      if (!(err instanceof Refused)) sayWrong(err);
    }
  }

  async adopt() {
    if (!this.shown) return;
    const what = this.what.replace(/^option /, '');
    this.take.disabled = true;
    const before = this.of.session.state;
    let after;
    try {
      after = await this.of.session.write('/api/adopt', { revision: this.shown.revision });
    } catch (err) {
      this.note.textContent = err instanceof Refused ? `${err.message}${err.fix ? '; ' + err.fix : ''}` : 'The program cannot be reached; nothing was changed.';
      return;
    }
    this.of.dialog.close();
    say(`${what} is the plan now. ${laidAnew(before, after) || 'Undo brings back what was.'}`);
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
    /** @type {Side[]} */
    this.sides = [new Side(the('compare-left'), 'left', this), new Side(the('compare-right'), 'right', this)];
    the('open-compare').addEventListener('click', () => this.open());
    // Arrows step the right side, with shift the left, past what either shows.
    this.dialog.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
      if (e.target instanceof HTMLSelectElement || !['ArrowLeft', 'ArrowRight'].includes(e.key)) return;
      e.preventDefault();
      this.sides[e.shiftKey ? 0 : 1].step(e.key === 'ArrowLeft' ? -1 : 1);
    });
  }

  async open() {
    this.dialog.showModal();
    const [left, right] = this.sides;
    left.what = 'now';
    const now = BigInt(this.session.state.seed);
    right.what = `seed ${isSeed(now + 1n) ? now + 1n : now - 1n}`;
    await left.show('now');
    await right.show(right.what);
  }
}
