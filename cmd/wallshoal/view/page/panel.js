// The panel beside the picture: what is picked, the kinds, the overlays, and the strip of faces.

import { h, the, counted } from './dom.js';
import { LAYERS, ROOM, Picture } from './picture.js';
import { cautionList, saidOf, words } from './told.js';
import { heading, place } from './units.js';
import { say } from './say.js';

/** @typedef {import('./types.js').Kind} Kind */

/**
 * A kind by its shape and code.
 * @param {Kind} kind
 */
export function emblem(kind) {
  const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  const xs = kind.outline.map((p) => p[0]);
  const ys = kind.outline.map((p) => p[1]);
  const rim = 4;
  const [x, y, w, t] = [Math.min(...xs), -Math.max(...ys), Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
  svg.setAttribute('viewBox', `${x - rim} ${y - rim} ${w + 2 * rim} ${t + 2 * rim}`);
  svg.setAttribute('class', 'emblem');
  svg.setAttribute('aria-hidden', 'true');
  const path = document.createElementNS('http://www.w3.org/2000/svg', 'path');
  path.setAttribute('d', kind.outline.map((p, i) => `${i ? 'L' : 'M'}${p[0]},${-p[1]}`).join('') + 'Z');
  if (/^#[0-9a-f]{3,8}$/i.test(kind.colour)) path.style.fill = kind.colour;
  svg.append(path);
  return svg;
}

/**
 * @param {import('./session.js').Session} session
 * @param {import('./tools.js').Tools} tools
 */
export function kindsPanel(session, tools) {
  const list = the('kinds');
  const add = the('add-kind');
  add.addEventListener('change', () => choose(Number(add.value)));
  /** @param {number} kind */
  function choose(kind) {
    tools.kind = kind;
    add.value = String(kind);
    if (tools.tool === 'add' && tools.next) tools.aim(tools.next);
  }
  session.addEventListener('state', () => {
    const { kinds, pieces } = session.state;
    const counts = kinds.map(() => 0);
    for (const p of pieces) counts[p.kind]++;
    list.replaceChildren(...kinds.map((k) => h('li', {}, emblem(k), h('b', { text: k.code }), h('span', { class: 'name', text: k.name }), h('span', { class: 'figure', text: String(counts[k.index]) }))));
    options(add, kinds, tools.kind < kinds.length ? tools.kind : 0);
  });
}

/**
 * @param {HTMLSelectElement} select
 * @param {Kind[]} kinds
 * @param {number} chosen
 */
function options(select, kinds, chosen) {
  select.replaceChildren(...kinds.map((k) => h('option', { value: k.index, text: `${k.code} ${k.name}`, prop: { selected: k.index === chosen } })));
}

/** @param {import('./hand.js').Hand} hand */
export function pickedPanel(hand) {
  const { pieces, picture } = hand;
  const box = the('picked');
  const become = the('become');
  const what = the('picked-what');
  const flaws = the('picked-flaws');
  const { judge } = hand;
  the('rest').addEventListener('change', (/** @type {Event} */ e) => { hand.rest = /** @type {HTMLSelectElement} */ (e.target).value; });
  become.addEventListener('change', () => hand.become(Number(become.value)));
  the('lock').addEventListener('click', () => hand.lock());
  the('delete').addEventListener('click', () => hand.all('delete'));
  the('swap').addEventListener('click', () => hand.swap());
  the('turn-left').addEventListener('click', (/** @type {MouseEvent} */ e) => hand.twist(e.shiftKey ? -15 : -1));
  the('turn-right').addEventListener('click', (/** @type {MouseEvent} */ e) => hand.twist(e.shiftKey ? 15 : 1));
  function show() {
    const puts = hand.puts();
    box.hidden = puts.length === 0 || picture.face === ROOM;
    document.body.classList.toggle('picking', !box.hidden);
    if (box.hidden) return;
    const { kinds, units, flaws: standing } = picture.state;
    const all = pieces.picked();
    const [p] = puts;
    what.textContent = puts.length === 1
      ? `${p.id ? `Piece ${p.id}` : 'A new piece'}, ${kinds[p.kind].code}: ${place(p.at, units, picture.shownFace())}, heading ${heading(p.heading)}${all[0]?.up ? ', hangs' : ''}${all[0]?.locked ? ', locked' : ''}`
      : `${counted(puts.length, 'piece')}: ${puts.slice(0, 12).map((q) => q.id).join(', ')}${puts.length > 12 ? ' …' : ''}`;
    const ids = new Set(puts.map((q) => q.id));
    // What was known before stays until it is known what is said of the pieces there.
    flaws.classList.toggle('stale', !judge.known);
    the('picked-cautions').classList.toggle('stale', !judge.known);
    if (judge.known || hand.ghost.length === 0) {
      const found = hand.ghost.length ? judge.said.flaws : standing.filter((f) => ids.has(f.piece) || ids.has(f.other)).map((f) => (ids.has(f.piece) ? f : saidOf(f, f.other)));
      flaws.replaceChildren(...found.slice(0, 5).map((f) => h('li', { text: words(f, puts.length > 1) })));
    }
    cautionList(the('picked-cautions'), judge.said, puts.length > 1);
    // A place that changes with every pixel is not read out.
    what.setAttribute('aria-live', document.body.classList.contains('dragging') ? 'off' : 'polite');
    the('picked-lock').textContent = lockHelp(all);
    const several = puts.some((q) => q.kind !== p.kind);
    options(become, kinds, several ? -1 : p.kind);
    if (several) become.prepend(h('option', { value: '', text: 'several', prop: { selected: true, disabled: true } }));
    for (const id of ['become', 'lock', 'delete']) the(id).disabled = all.length === 0;
    the('swap').disabled = all.length !== 2;
    the('lock').textContent = all.length && all.every((q) => q.locked) ? 'Unlock' : 'Lock';
  }
  for (const [of, event] of [[pieces, 'pick'], [pieces, 'drawn'], [hand, 'ghost'], [judge, 'said']]) /** @type {EventTarget} */ (of).addEventListener(/** @type {string} */ (event), show);
  show();
}

/**
 * What a lock does, of pieces that have one or not.
 * @param {import('./types.js').Piece[]} picked
 */
function lockHelp(picked) {
  if (picked.some((p) => p.up)) return 'Hangs: stays where it is when the rest is laid anew. To move, turn or delete it means to take it down, and you are asked first.';
  if (picked.length > 0 && picked.every((p) => p.locked)) return 'Locked: stays where it is when the rest is laid anew. Your hand can still move it, and it stays locked.';
  return 'What you move, turn, swap or make another kind is locked by that.';
}

/**
 * The overlays to choose from. Returns what puts one over the wall for somebody who turns what it shows.
 * @param {Picture} picture
 */
export function layersPanel(picture) {
  const boxes = LAYERS.map(([id, label, help]) => h('label', {}, h('input', { type: 'checkbox', name: id, on: { change: (/** @type {Event} */ e) => picture.setLayer(id, /** @type {HTMLInputElement} */ (e.target).checked) } }), ' ', label, h('span', { class: 'quiet', text: `: ${help}` })));
  the('layers').append(...boxes);
  const settle = () => {
    const off = picture.face === ROOM;
    the('layers').classList.toggle('off', off);
    for (const box of the('layers').querySelectorAll('input')) box.disabled = off;
  };
  picture.addEventListener('face', settle);
  settle();
  for (const radio of document.querySelectorAll('input[name=look]')) {
    radio.addEventListener('change', () => picture.setLook(/** @type {HTMLInputElement} */ (radio).value));
  }
  /** @param {string} id */
  return (id) => {
    const label = LAYERS.find(([of]) => of === id)?.[1];
    if (picture.face === ROOM) say(`This shows on a wall, as the overlay “${label}”: choose a wall below the picture.`);
    else if (!picture.layers.has(id)) say(`The overlay “${label}” shows what you turn.`);
    if (picture.layers.has(id)) return;
    /** @type {HTMLInputElement} */ (the('layers').querySelector(`input[name=${id}]`)).checked = true;
    picture.setLayer(id, true);
  };
}

/**
 * The strip of faces to choose from.
 * @param {import('./session.js').Session} session
 * @param {Picture} picture
 */
export function facesStrip(session, picture) {
  const strip = the('faces');
  let names = '';
  let timer = 0;
  // One after the other, and none of a revision that something later took the place of.
  const thumbs = async () => {
    const { revision } = session.state;
    for (const img of strip.querySelectorAll('img')) {
      if (session.state.revision !== revision || session.writing > 0) return;
      const next = Picture.address(revision, Number(img.dataset.face));
      if (img.getAttribute('src') === next) continue;
      const fresh = h('img', { alt: '', 'data-face': img.dataset.face, src: next, draggable: 'false' });
      await fresh.decode().then(() => img.replaceWith(fresh), () => {});
    }
  };
  const mark = () => {
    for (const b of strip.querySelectorAll('button')) {
      const is = Number(b.dataset.face) === picture.face;
      b.setAttribute('aria-pressed', String(is));
      if (is) reveal(b);
    }
  };
  // Scrolls the strip alone: the page stays where it is.
  const reveal = (/** @type {HTMLElement} */ b) => {
    const [seen, box, rim] = [strip.getBoundingClientRect(), b.getBoundingClientRect(), 12];
    strip.scrollLeft += Math.min(0, box.left - rim - seen.left) + Math.max(0, box.right + rim - seen.right);
  };
  session.addEventListener('state', () => {
    const { faces, pieces } = session.state;
    const hung = new Set(pieces.map((p) => p.face));
    const shown = [{ index: ROOM, title: 'The room', short: 'The room' },
      ...faces.filter((f) => f.used || f.face === 'wall' || hung.has(f.index)).map((f) => ({ index: f.index, title: f.title, short: f.face === 'wall' ? f.title : f.face || f.title }))];
    const now = JSON.stringify(shown.map((f) => [f.index, f.title]));
    if (now !== names) {
      names = now;
      strip.replaceChildren(...shown.map((f) => h('li', {}, h('button', { type: 'button', 'data-face': f.index, 'aria-label': f.title, title: f.title, on: { click: () => picture.show(f.index) } },
        h('img', { alt: '', 'data-face': f.index, draggable: 'false' }), h('span', { text: f.short })))));
      mark();
    }
    // Small pictures wait until the large one rests.
    const before = strip.querySelector('img[src]');
    clearTimeout(timer);
    timer = window.setTimeout(thumbs, before ? 700 : 100);
  });
  picture.addEventListener('face', mark);
}
