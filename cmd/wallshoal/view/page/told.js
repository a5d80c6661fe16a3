// What is said of pieces, in words: beside their ghost, in the panel, and read out.

import { h, counted } from './dom.js';
import { beside, neighbours } from './beside.js';
import { lockSign } from './locks.js';

/** @typedef {import('./types.js').Said} Said */
/** @typedef {import('./types.js').Flaw} Flaw */
/** @typedef {import('./types.js').Warned} Warned */
/** @typedef {{severity: string, heading: string, texts: string[], ids: number[], fresh: boolean, decided: boolean}} Told cautions of one heading; fresh: new for one of the pieces at least */

const RANK = ['stop', 'ask', 'note'];

/** The words for severities, as the figures have them. */
export const SEVERITY = { stop: 'stop', ask: 'care', note: 'note' };

/** Cautions that say again what a flaw says in more words. */
const FLAWS = ['off-face', 'on-obstruction', 'off-structure', 'not-free', 'overlap', 'crowded'];

const MOST = 3; // flaws beside the ghost, and cautions
const NEAR = 40; // pixels from the ghost within which pieces are to be seen beside it
const PAUSE = 400; // ms without another word until what is said is read out

/**
 * A flaw as it is said of one of its pieces.
 * @param {Flaw} f
 * @param {number} id
 * @returns {Flaw}
 */
export function saidOf(f, id) {
  return id && id === f.other ? { ...f, piece: f.other, other: f.piece, wrong: f.back, back: f.wrong } : f;
}

/**
 * What is wrong about a piece.
 * @param {Flaw} f
 * @param {boolean} several whether it is one of several
 */
export function wrong(f, several) {
  return `${several && f.piece ? `piece ${f.piece}: ` : ''}${f.wrong}`;
}

/**
 * What is wrong about a piece, and what to do about it.
 * @param {Flaw} f
 * @param {boolean} several whether it is one of several
 */
export function words(f, several) {
  return `${wrong(f, several)}${f.fix ? '; ' + f.fix : ''}`;
}

/**
 * The cautions by their headings, the worst first.
 * @param {Said} said
 * @returns {Told[]}
 */
export function headed(said) {
  return together(said.cautions.filter((c) => said.flaws.length === 0 || !FLAWS.includes(c.code)));
}

/** @param {Told} t */
const rank = (t) => RANK.indexOf(t.severity) * 2 + (t.decided ? 1 : 0);

/**
 * @param {Warned[]} cautions
 * @returns {Told[]}
 */
function together(cautions) {
  /** @type {Map<string, Told>} */
  const all = new Map();
  for (const c of cautions) {
    const key = `${c.severity} ${c.decided} ${c.heading}`;
    const told = all.get(key) || { severity: c.severity, heading: c.heading, texts: [], ids: [], fresh: false, decided: c.decided };
    if (!told.texts.includes(c.text)) told.texts.push(c.text);
    if (!told.ids.includes(c.piece)) told.ids.push(c.piece);
    told.fresh = told.fresh || c.new;
    all.set(key, told);
  }
  return [...all.values()].sort((a, b) => rank(a) - rank(b));
}

/**
 * What the pieces would be rid of.
 * @param {Said} said
 */
function rid(said) {
  const still = new Set(said.cautions.map((c) => c.heading));
  return together(said.rid.filter((c) => !still.has(c.heading) && !FLAWS.includes(c.code)));
}

/**
 * The same for what says the same: figures change with every pixel.
 * @param {Said} said
 */
function sense(said) {
  const flaws = said.flaws.map((f) => `${f.piece} ${f.other} ${f.wrong.replace(/\d+([.,]\d+)?/g, '')}`);
  return JSON.stringify([flaws, headed(said).map((t) => [t.severity, t.heading, t.decided, t.ids])]);
}

/** @param {Told} t */
function line(t) {
  return [h('b', { class: 'severity', text: /** @type {Record<string, string>} */ (SEVERITY)[t.severity] || t.severity }), ` ${t.heading}`,
    t.decided && ' (decided)', t.fresh && h('i', { class: 'fresh', text: 'new' })];
}

/**
 * The words beside the ghost, which cover neither it nor the handle to turn it by.
 * @param {HTMLElement} layer
 * @param {import('./hand.js').Hand} hand
 */
export function ghostWords(layer, hand) {
  const { judge, picture } = hand;
  const el = h('div', { class: 'told', hidden: true, 'aria-hidden': 'true' });
  layer.append(el);
  let shown = '';
  let side = 0;
  const show = () => {
    const { said } = judge;
    const several = hand.ghost.length > 1;
    const kept = hand.lockWords();
    // Of equally bad ones the new first: there is room for few.
    const told = hand.ghost.length ? headed(said).sort((a, b) => rank(a) - rank(b) || Number(b.fresh) - Number(a.fresh)) : [];
    el.hidden = hand.ghost.length === 0 || (said.flaws.length === 0 && told.length === 0 && rid(said).length === 0 && !kept);
    if (el.hidden) {
      [shown, side] = ['', 0];
      return;
    }
    const clashes = said.flaws.map((f) => wrong(f, several));
    const next = JSON.stringify([clashes, told, rid(said), kept, several]);
    if (next !== shown) {
      shown = next;
      const more = told.length - MOST;
      const worse = clashes.length - MOST;
      el.replaceChildren(...[
        clashes.length > 0 && h('ul', { class: 'clash' }, ...clashes.slice(0, MOST).map((text) => h('li', { text: `⚠ ${text}` })),
          worse > 0 && h('li', { class: 'worse', text: `and ${worse} more` })),
        told.length > 0 && h('ul', {}, ...told.slice(0, MOST).map((t) => h('li', { class: t.severity }, ...line(t))),
          more > 0 && h('li', { class: 'more', text: `and ${more} more` })),
        rid(said).length > 0 && h('p', { class: 'rid', text: `✓ no longer ${rid(said).map((t) => t.heading).join('; ')}` }),
        kept && h('p', { class: 'kept' }, lockSign(), ' ' + kept),
      ].filter(Boolean));
    }
    side = beside(el, hand.boxes(), neighbours(hand, NEAR), hand.thumb, picture.camera.stage, side);
  };
  hand.addEventListener('ghost', show);
  judge.addEventListener('said', show);
  picture.camera.addEventListener('look', () => {
    if (!el.hidden) show();
  });
}

/**
 * Reads out what is said of the pieces, once it is something else and nothing moves.
 * @param {HTMLElement} layer
 * @param {import('./hand.js').Hand} hand
 */
export function announcing(layer, hand) {
  const { judge } = hand;
  const live = h('p', { class: 'unseen', id: 'told-aloud', role: 'status' });
  layer.append(live);
  let before = '';
  let of = '';
  let timer = 0;
  judge.addEventListener('said', () => {
    if (!judge.known) return;
    const { said } = judge;
    const now = sense(said);
    if (now === before && of === judge.of) return;
    const quiet = of !== judge.of && said.flaws.length + said.cautions.length === 0; // another piece, and nothing to say of it
    [before, of] = [now, judge.of];
    const told = headed(said);
    const gone = rid(said);
    const text = [
      ...said.flaws.slice(0, MOST).map((f) => wrong(f, judge.of.includes(' '))),
      said.flaws.length > MOST && `and ${said.flaws.length - MOST} more`,
      ...told.slice(0, MOST).map((t) => `${/** @type {Record<string, string>} */ (SEVERITY)[t.severity]}: ${t.heading}${t.fresh ? ', new' : ''}`),
      told.length > MOST && `and ${told.length - MOST} more`,
      gone.length > 0 && `no longer ${gone.map((t) => t.heading).join(', ')}`,
    ].filter(Boolean).join('. ');
    clearTimeout(timer);
    timer = window.setTimeout(() => { live.textContent = text || (quiet || !of ? '' : 'No caution speaks of it here, which does not mean that drilling is safe.'); }, PAUSE);
  });
}

/**
 * The cautions of the pieces one below the other, each with its full text to be opened.
 * @param {HTMLElement} list
 * @param {Said} said
 * @param {boolean} several whether they are of several pieces
 */
export function cautionList(list, said, several) {
  const told = headed(said);
  const gone = rid(said);
  const next = JSON.stringify([told, gone, several, said.past]);
  if (list.dataset.shown === next) return;
  list.dataset.shown = next;
  const open = new Set([...list.querySelectorAll('details[open]')].map((d) => d.getAttribute('data-heading')));
  list.replaceChildren(
    ...told.map((t) => h('li', { class: t.severity }, h('details', { 'data-heading': t.heading, open: open.has(t.heading) },
      h('summary', {}, ...line(t), several && h('span', { class: 'quiet', text: ` ${t.ids.length > 4 ? counted(t.ids.length, 'piece') : t.ids.map((id) => id || 'the new one').join(', ')}` })),
      ...t.texts.map((text) => h('p', { text }))))),
    ...gone.map((t) => h('li', { class: 'rid', text: `✓ no longer ${t.heading}` })),
    ...(said.past > 0 ? [h('li', { class: 'quiet', text: `Cautions of ${counted(said.past, 'more piece')} are not looked at here.` })] : []));
}
