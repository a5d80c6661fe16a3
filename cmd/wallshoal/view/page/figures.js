// What the work comes to. Counting takes longer than drawing: figures follow, and are pale until they do.

import { h, counted } from './dom.js';
import { get, latest, Refused, Unreachable } from './api.js';

/** @typedef {import('./types.js').Figures} Figures */
/** @typedef {import('./types.js').State} State */

const SEVERITIES = { stop: 'stop', ask: 'care', care: 'care', note: 'note' };

/** @param {number} share */
export function percent(share) {
  const p = share * 100;
  return `${p < 10 ? Math.round(p * 10) / 10 : Math.round(p)} %`;
}

/**
 * The figures as terms and words.
 * @param {Figures} f
 * @returns {[string, string, string][]} a term, its value, and a word that makes it stand out
 */
export function facts(f) {
  /** @type {[string, string, string][]} */
  const rows = [
    ['pieces', String(f.pieces), ''],
    ['holes', String(f.holes), ''],
    ['wall covered', percent(f.coverage), ''],
    ['sheets with holes', `${f.sheets} ${f.paper}${f.keyPages ? ` and ${counted(f.keyPages, 'key page')}` : ''}`, ''],
    ['cautions', standing(f), f.cautionList.some((c) => c.severity === 'stop' && !c.acknowledged) ? 'pressing' : ''],
  ];
  if (f.hours) rows.push(['hours of work', f.hours, '']);
  if (f.cost) rows.push(['cost', f.cost, '']);
  if (f.lastStart) rows.push([f.inTime === null ? 'time' : 'begin by', f.lastStart + (f.inTime === null ? '' : f.inTime ? ', in time' : ', too late'), f.inTime === false ? 'pressing' : '']);
  return rows;
}

/**
 * How the cautions stand.
 * @param {Figures} f
 */
function standing(f) {
  const all = alike(f);
  const notes = all.filter((c) => c.severity === 'note' && !c.acknowledged).length;
  const decided = all.filter((c) => c.acknowledged).length;
  return [f.pressing && `${f.pressing} to settle first`, notes && counted(notes, 'note'), decided && `${decided} decided`].filter(Boolean).join(', ') || 'none';
}

/**
 * The cautions, those together that say the same of several walls: so they are counted.
 * @param {Figures} f
 */
function alike(f) {
  /** @type {Map<string, {severity: string, text: string, walls: string[], acknowledged: boolean}>} */
  const groups = new Map();
  for (const c of f.cautionList) {
    const key = JSON.stringify([c.severity, c.code, c.text, c.source, c.acknowledged]);
    const group = groups.get(key);
    if (!group) groups.set(key, { severity: c.severity, text: c.text, walls: c.wall ? [c.wall] : [], acknowledged: c.acknowledged });
    else if (c.wall && !group.walls.includes(c.wall)) group.walls.push(c.wall);
  }
  return [...groups.values()];
}

/**
 * A list of facts.
 * @param {Figures} f
 * @param {boolean} [short] without how far a figure can be off
 */
export function factList(f, short = false) {
  return facts(f).map(([term, value, mark]) => h('div', { class: mark, title: value }, h('dt', { text: term }), h('dd', { text: short ? value.split(', from ')[0] : value })));
}

export class FiguresView {
  /**
   * @param {HTMLElement} strip
   * @param {HTMLElement} more walls and cautions one by one
   * @param {() => boolean} busy whether the work is just being changed
   */
  constructor(strip, more, busy) {
    this.strip = strip;
    this.busy = busy;
    this.counted = { pieces: 0, holes: 0 }; // as the state has them
    this.tried = -1; // the revision that was last asked for
    this.came = -Infinity; // when the last figures did
    this.took = 0; // ms that they took
    this.more = more;
    /** @type {Figures|null} */
    this.figures = null;
    this.revision = -1;
    this.wanted = -1;
    this.ask = latest((/** @type {number} */ revision) => this.fetch(revision));
    this.timer = 0; // until the next are asked for
  }

  /**
   * Follows a state, whose pieces and holes are known at once.
   * @param {State} state
   */
  follow(state) {
    this.wanted = state.revision;
    this.mark();
    if (state.revision === this.revision) return;
    this.counted = { pieces: state.pieceCount, holes: state.holeCount };
    const [pieces, holes] = this.strip.querySelectorAll('dd');
    if (pieces && holes) {
      pieces.textContent = String(state.pieceCount);
      holes.textContent = String(state.holeCount);
    } else {
      this.strip.replaceChildren(
        ...[['pieces', state.pieceCount], ['holes', state.holeCount]].map(([t, v]) => h('div', {}, h('dt', { text: t }), h('dd', { text: String(v) }))));
    }
    if (state.revision !== this.tried) this.soon();
  }

  /** Marks what may be of another work than the one that is asked for. */
  mark() {
    const stale = this.revision !== this.wanted || this.busy();
    this.strip.classList.toggle('stale', stale);
    this.more.classList.toggle('stale', stale);
  }

  /**
   * Counts once nothing is being changed. While somebody drags, figures come one after the other: none that are being
   * counted are given up for newer ones, and drawing has as much time as counting.
   */
  soon() {
    if (this.timer) return;
    this.timer = window.setTimeout(() => {
      this.timer = 0;
      if (this.busy() && performance.now() - this.came < this.took) this.soon();
      else this.ask(this.wanted);
    }, 100);
  }

  /** @param {number} revision */
  async fetch(revision) {
    this.tried = revision;
    const asked = performance.now();
    try {
      const figures = await get(`/api/figures?revision=${revision}`);
      this.show(figures);
    } catch (err) {
      this.tried = -1; // the same state can ask again
      if (err instanceof Refused && err.status !== 410) this.more.replaceChildren(h('p', { class: 'fault', text: `${err.message}${err.fix ? '; ' + err.fix : ''}` }));
      else if (!(err instanceof Refused || err instanceof Unreachable)) throw err;
    } finally {
      this.came = performance.now();
      this.took = this.came - asked;
    }
  }

  /** @param {Figures} f */
  show(f) {
    this.figures = f;
    this.revision = f.revision;
    this.mark();
    // What is known of the state is newer than figures that were overtaken.
    this.strip.replaceChildren(...factList(f.revision === this.wanted ? f : { ...f, ...this.counted }, true));
    const open = new Set([...this.more.querySelectorAll('details[open]')].map((d) => d.getAttribute('data-name')));
    this.more.replaceChildren(h('dl', { class: 'facts all' }, ...factList(f)), walls(f), cautions(f, open.has('cautions')), missing(f));
  }
}

/** @param {Figures} f */
function walls(f) {
  const cells = (/** @type {string} */ tag, /** @type {string[]} */ texts) => texts.map((text, i) => h(i ? tag : 'th', { class: i ? 'figure' : '', scope: i ? (tag === 'th' ? 'col' : null) : (tag === 'th' ? 'col' : 'row'), text }));
  return h('table', {},
    h('caption', { text: 'wall by wall' }),
    h('thead', {}, h('tr', {}, ...cells('th', ['wall or face', 'pieces', 'holes', 'covered']))),
    h('tbody', {}, ...f.walls.map((w) => h('tr', {}, ...cells('td', [w.face && w.face !== 'wall' ? `${w.wall}, ${w.face}` : w.wall, String(w.pieces), String(w.holes), percent(w.coverage)])))));
}

/**
 * @param {Figures} f
 * @param {boolean} open
 */
function cautions(f, open) {
  if (f.cautionList.length === 0) return h('p', { text: 'No caution is met.' });
  return h('details', { class: 'inner', 'data-name': 'cautions', open },
    h('summary', { text: `${counted(alike(f).length, 'caution')}: ${standing(f)}` }),
    f.pressing > 0 && h('p', { class: 'help', text: 'Settle those before the first hole is drilled.' }),
    h('ul', { class: 'cautions' }, ...alike(f).map((c) => h('li', { class: SEVERITIES[/** @type {'stop'} */ (c.severity)] || 'note' },
      h('b', { text: SEVERITIES[/** @type {'stop'} */ (c.severity)] || c.severity }), ` ${c.walls.length ? c.walls.join(', ') + ': ' : ''}${c.text}${c.acknowledged ? ' (decided)' : ''}`))),
    h('p', { class: 'help', text: 'These are the usual cautions. Local codes and whoever is licensed for the work come first.' }));
}

/** @param {Figures} f */
function missing(f) {
  return f.missing.length === 0 ? h('p', { class: 'help' }) : h('p', { class: 'help', text: `Not counted, since the plan does not say it: ${f.missing.join('; ')}.` });
}
