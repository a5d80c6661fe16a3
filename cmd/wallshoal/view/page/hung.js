// What hangs: its mark, its words, and the question before it is taken down.

import { h, s, the, counted } from './dom.js';
import { saidOf } from './told.js';
import { say } from './say.js';

/**
 * The mark of a piece that hangs: a tick within a disc, over its middle.
 * @param {{x: number, y: number}} at
 * @param {number} reach of its kind, mm
 * @param {number} scale pixels for each mm: small pieces keep a mark that is seen
 */
export function hungMark(at, reach, scale) {
  const k = Math.min(Math.max(reach * 0.12, 4 / scale), 8 / scale);
  return s('g', { class: 'hung', transform: `translate(${at.x} ${at.y}) scale(${k})` }, ...parts());
}

function parts() {
  return [s('circle', { r: 1 }), s('path', { d: 'M-0.5,0L-0.12,0.4L0.52,-0.38' })];
}

/** The mark within a line of words. */
export function hungSign() {
  return s('svg', { class: 'locks sign', viewBox: '-1.2 -1.2 2.4 2.4', 'aria-hidden': 'true' }, s('g', { class: 'hung' }, ...parts()));
}

const MOST = 200; // findings that are listed

/**
 * What hangs, beside the kinds; and all that is found, with the button to mend it.
 * @param {import('./session.js').Session} session
 * @param {import('./picture.js').Picture} picture
 * @param {import('./pieces.js').Pieces} pieces
 */
export function hangingPanel(session, picture, pieces) {
  const note = the('hanging');
  const box = the('findings');
  const list = the('findings-list');
  /** @type {string} */
  let before = '';
  the('mend').addEventListener('click', async () => {
    const was = new Map(session.state.pieces.map((p) => [p.id, JSON.stringify([p.face, p.kind, p.at, p.heading])]));
    const state = await session.change('/api/mend', {});
    if (!state) return;
    const anew = state.pieces.filter((p) => was.get(p.id) !== JSON.stringify([p.face, p.kind, p.at, p.heading])).length;
    say(anew ? `Mended: ${anew} of ${state.pieces.length} pieces are laid anew, and all others stay where they were. Undo brings them back.` : 'Nothing can be mended without moving what hangs or is locked.');
  });
  session.addEventListener('state', () => {
    const { flaws, hanging, faces, pieces: all } = session.state;
    const { told = '', moved = '', unread = '' } = hanging || {};
    const now = JSON.stringify([told, moved, unread, flaws]);
    if (now === before) return; // what stays is not read out again
    before = now;
    note.hidden = !told;
    note.replaceChildren(...told ? [hungSign(), ` ${told}.`] : []);
    const face = new Map(all.map((p) => [p.id, p.face]));
    /** @param {number} id */
    const go = (id) => {
      const on = face.get(id);
      if (on === undefined) return;
      if (picture.face !== on) picture.show(on);
      pieces.only(id);
    };
    const rows = flaws.slice(0, MOST).map((f) => {
      const said = saidOf(f, f.piece);
      const where = f.piece ? faces[face.get(f.piece) ?? -1]?.title : '';
      return h('li', {}, f.piece ? h('button', { type: 'button', text: `piece ${f.piece}`, title: where, on: { click: () => go(f.piece) } }) : false, ` ${said.wrong}${f.fix ? `; ${f.fix}` : ''}`);
    });
    if (flaws.length > MOST) rows.push(h('li', { text: `and ${flaws.length - MOST} more` }));
    if (moved) rows.unshift(h('li', { text: `${moved}.` }));
    if (unread) rows.unshift(h('li', { text: `What hangs is not known: ${unread}.` }));
    box.hidden = rows.length === 0;
    the('findings-what').textContent = counted(flaws.length + (moved ? 1 : 0) + (unread ? 1 : 0), 'finding');
    list.replaceChildren(...rows);
  });
  session.addEventListener('progress', () => session.refreshSoon());
  session.asks = ask;
}

/**
 * Asks whether pieces that hang are to be taken down.
 * @param {string} what it means
 * @returns {Promise<boolean>}
 */
function ask(what) {
  const dialog = the('down');
  the('down-what').textContent = `${/^\d+ hangs/.test(what) ? 'Piece' : 'Pieces'} ${what}.`;
  dialog.returnValue = '';
  dialog.showModal();
  return new Promise((done) => {
    dialog.addEventListener('close', () => done(dialog.returnValue === 'down'), { once: true });
  });
}
