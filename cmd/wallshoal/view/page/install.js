// The page that is held to the wall: stand by stand, hole by hole.

import { h, the, counted } from './dom.js';
import { get, post, cut, foreign } from './api.js';
import { say, sayWrong } from './say.js';
import { Outbox } from './outbox.js';
import { Ticks } from './ticks.js';
import { keepPage } from './keep.js';
import { showAstray } from './astray.js';
import { correcting } from './times.js';
import { setOut, warned, summed } from './hole.js';
import { heading } from './units.js';

/** @typedef {import('./hole.js').Hole} Hole @typedef {import('./hole.js').Warning} Warning */
/** @typedef {{id: number, code: string, kind: string, up: boolean, heading: number, holes: Hole[]}} Piece */
/** @typedef {{number: number, title: string, access: string, low: string, high: string, minutes: number, begun: string, done: boolean, carry: string[], wall: number[], pieces: Piece[]}} Stand */
/** @typedef {{fingerprint: string, file: string, hanging: number, pieces: number, others: string[], rehang: number[], moved?: string, astray?: import('./astray.js').Astray[], left?: string, damaged: number, warnings: Warning[], stands: Stand[]}} Stands */

const KEPT = 'wallshoal stands'; // the last answer, for a reload while offline
const WHERE = 'wallshoal stand';
const BOUNCE = 400; // ms in which a second tap of a glove is none

/** @type {Stands|null} */
let all = null;
let number = Number(localStorage.getItem(WHERE)) || 0;
let ticked = -BOUNCE; // when the last tap was taken
const ticks = new Ticks();
const outbox = new Outbox();

/** The stands with what waits to be sent taken as done. */
function told() {
  const stands = /** @type {Stands} */ (structuredClone(all));
  const byID = new Map(stands.stands.flatMap((s) => s.pieces.map((p) => [p.id, p])));
  for (const { fingerprint, deed } of outbox.waiting) {
    if (fingerprint !== stands.fingerprint) continue;
    for (const id of deed.pieces || []) {
      const p = byID.get(id);
      if (p) p.up = deed.do === 'up';
    }
  }
  return stands;
}

/** @param {Stands} stands */
function take(stands) {
  all = stands;
  outbox.fingerprint = stands.fingerprint;
  try {
    localStorage.setItem(KEPT, JSON.stringify(stands));
  } catch {
    // Without it a reload needs the program to answer.
  }
  show();
}

async function refresh() {
  try {
    const stands = await get('/api/stands', true);
    if (!outbox.waiting.length) outbox.connected('');
    take(stands);
    await outbox.flush();
  } catch (err) {
    if (cut(err)) outbox.connected(cut(err));
    else sayWrong(err);
  }
}

/** @param {import('./outbox.js').Deed} deed */
function send(deed) {
  if (!all) return;
  outbox.add(all.fingerprint, deed);
  show();
}

/**
 * @param {boolean} up
 * @param {number} id
 */
function tick(up, id) {
  if (all) ticks.add({ do: up ? 'up' : 'down', piece: id, fingerprint: all.fingerprint });
  send({ do: up ? 'up' : 'down', pieces: [id] });
  say(up ? `Piece ${id} is up.` : `Piece ${id} is not up.`);
}

function show() {
  if (!all) return;
  const stands = told();
  const list = stands.stands;
  let i = list.findIndex((s) => s.number === number);
  if (i < 0) i = Math.max(0, list.findIndex((s) => s.pieces.some((p) => !p.up)));
  const stand = list[i];
  const hung = list.reduce((n, s) => n + s.pieces.filter((p) => p.up).length, 0);
  const total = list.reduce((n, s) => n + s.pieces.length, 0);
  const waiting = outbox.waiting.length ? `, ${outbox.waiting.length} still to send` : '';
  the('done').textContent = `${hung} of ${counted(total, 'piece')} up${waiting}`;
  the('bar').max = Math.max(1, total);
  the('bar').value = hung;
  showNotes(stands);
  const last = ticks.last(stands.fingerprint, new Map(list.flatMap((s) => s.pieces.map((p) => [p.id, p.up]))));
  the('undo').disabled = !last;
  the('undo').replaceChildren('Undo', ...last ? [h('small', { text: ` piece ${last.piece} ${last.do === 'up' ? 'up' : 'not up'}` })] : []);
  if (!stand) {
    the('stand-title').textContent = 'Nothing hangs in this plan yet.';
    the('next').hidden = the('up').hidden = true;
    return;
  }
  number = stand.number;
  showStand(stand, list, i);
  showNext(stand, i + 1 < list.length, stands.warnings);
  the('pieces').replaceChildren(...stand.pieces.map(row));
}

/** @param {Stands} stands */
function showNotes(stands) {
  showAstray(stands, outbox, send);
  const { elsewhere } = outbox;
  const pieces = elsewhere.flatMap((w) => w.deed.pieces || []);
  const notes = [
    stands.others.length && !stands.moved ? 'Some pieces were hung by another layout than the one shown now, and have the same holes in this one.' : '',
    stands.rehang.length ? `Holes are drilled already where these go now: ${stands.rehang.join(', ')}.` : '',
    stands.damaged ? `${counted(stands.damaged, 'line')} of ${stands.file} could not be read.` : '',
    outbox.keeps ? '' : 'This browser keeps nothing on the device: ticks that are still to send last as long as this page.',
    elsewhere.length ? `${counted(elsewhere.length, 'tick')} on this device ${elsewhere.length === 1 ? 'is' : 'are'} of another layout than the one shown now${pieces.length ? ` (pieces ${pieces.join(', ')} of that)` : ''}, and sent when that is shown again.` : '',
  ].filter(Boolean);
  the('other-what').textContent = notes.join(' ');
  the('other').hidden = notes.length === 0;
  the('forget').hidden = elsewhere.length === 0;
}

/**
 * @param {Stand} stand
 * @param {Stand[]} list
 * @param {number} i
 */
function showStand(stand, list, i) {
  const left = (/** @type {Stand} */ s) => s.pieces.filter((p) => !p.up).length;
  the('stands').replaceChildren(...list.map((s) => h('option', { value: s.number, text: `${left(s) ? '' : '✓ '}${s.number} of ${list.length}, ${left(s) ? `${left(s)} to go` : 'all up'}: ${s.title}`, prop: { selected: s === stand } })));
  the('before').disabled = i === 0;
  the('after').disabled = i === list.length - 1;
  the('stand-title').textContent = `Stand ${stand.number}: ${stand.title}`;
  the('stand-what').textContent = `${stand.access}, holes from ${stand.low} to ${stand.high}; ${counted(stand.pieces.length, 'piece')}`;
  const wall = (stand.wall || []).map((w) => all?.warnings[w]).filter(Boolean);
  the('wall-box').hidden = wall.length === 0;
  the('wall-what').textContent = `Before the first hole in this wall: ${summed(wall)}`;
  the('wall').replaceChildren(...warned(wall));
  the('carry').replaceChildren(...stand.carry.map((c) => h('li', { text: c })));
  the('begin').hidden = Boolean(stand.begun) || stand.done;
  the('begin').textContent = stand.minutes > 0 ? 'Go on at this stand' : 'Begin this stand';
  the('pause').hidden = the('end').hidden = !stand.begun;
  the('hands').parentElement.hidden = Boolean(stand.begun) || stand.done;
  the('correct').hidden = !stand.done && stand.minutes === 0;
  const spent = stand.minutes > 0 && stand.minutes < 1 ? 'less than a minute' : `${Math.round(stand.minutes)} min`;
  const begun = stand.begun && `begun ${new Date(stand.begun).toLocaleTimeString([], { hour: '2-digit', minute: '2-digit' })}`;
  the('minutes').textContent = stand.done ? `ended, ${spent}` : begun ? `${begun}${stand.minutes > 0 ? `, ${spent} before` : ''}` : stand.minutes > 0 ? `${spent} so far` : '';
}

/**
 * @param {Stand} stand
 * @param {boolean} more stands after it
 * @param {Warning[]} warnings of all stands
 */
function showNext(stand, more, warnings) {
  const next = stand.pieces.find((p) => !p.up);
  the('next').hidden = false;
  the('up').hidden = !next && !more;
  the('up').dataset.id = String(next?.id ?? '');
  if (!next) {
    the('next-title').textContent = 'All of this stand is up.';
    the('up').textContent = 'On to the next stand';
    the('holes').replaceChildren();
    return;
  }
  the('next-title').textContent = `Next: piece ${next.id}, ${next.code} ${next.kind}`;
  the('up').textContent = `Piece ${next.id} is up`;
  the('holes').replaceChildren(...setOut(next.holes, warnings), h('p', { class: 'quiet', text: `heads ${heading(next.heading)} from straight up, clockwise` }));
}

/** @param {Piece} p */
function row(p) {
  const holes = p.holes.length ? `hole${p.holes.length > 1 ? 's' : ''} ${p.holes.map((x) => x.number).join(', ')}` : 'no hole';
  return h('li', {}, h('label', { class: p.up ? 'up' : '' },
    h('input', { type: 'checkbox', prop: { checked: p.up }, 'data-id': p.id, on: { change: (/** @type {Event} */ e) => tick(/** @type {HTMLInputElement} */ (e.target).checked, p.id) } }),
    h('b', { text: `${p.id}` }), h('span', { text: `${p.code} ${p.kind}` }), h('span', { class: 'quiet', text: holes })));
}

/** @param {number} by */
function step(by) {
  if (!all) return;
  const i = all.stands.findIndex((s) => s.number === number) + by;
  go(all.stands[i]?.number ?? number);
}

/** On to the next stand; the clock goes along. */
function onward() {
  const stand = all?.stands.find((s) => s.number === number);
  const running = stand?.begun && !stand.done;
  if (running) send({ do: 'end', stand: number });
  step(1);
  if (!running || number === stand.number) return;
  send({ do: 'begin', stand: number, hands: hands() });
  say(`Stand ${stand.number} ended, stand ${number} begun.`);
}

function hands() {
  return Math.max(1, Number(the('hands').value) || 1);
}

/** Whether a tap is the last one once more: what it would tick nobody has seen yet. */
function bounced() {
  const now = performance.now();
  if (now - ticked < BOUNCE) return true;
  ticked = now;
  return false;
}

/** @param {number} to */
function go(to) {
  number = to;
  try {
    localStorage.setItem(WHERE, String(to));
  } catch {
    // It begins with the first that is not up then.
  }
  show();
}

the('stands').addEventListener('change', () => go(Number(the('stands').value)));
the('before').addEventListener('click', () => step(-1));
the('after').addEventListener('click', () => step(1));
the('up').addEventListener('click', () => {
  if (bounced()) return;
  const { id } = the('up').dataset;
  if (id) tick(true, Number(id));
  else onward();
  // Whoever has read on to the cautions sees the next measurements from their beginning.
  if (the('next').getBoundingClientRect().top < 0) the('next').scrollIntoView({ block: 'start' });
});
correcting((minutes) => send({ do: 'correct', stand: number, minutes }));
for (const what of ['begin', 'pause', 'end']) {
  the(what).addEventListener('click', () => send({ do: what, stand: number, hands: hands() }));
}
the('undo').addEventListener('click', () => {
  if (bounced()) return;
  const last = ticks.take();
  if (!last) return;
  send({ do: last.do === 'up' ? 'down' : 'up', pieces: [last.piece] });
  say(`Piece ${last.piece} is ${last.do === 'up' ? 'not up' : 'up again'}.`);
});
the('hours').addEventListener('click', async () => {
  try {
    const { file, rows, notes } = await post('/api/hours', {});
    the('hours-note').textContent = [rows ? `${counted(rows, 'row')} added to ${file}.` : 'No stand was ended since, so there is nothing to add.', ...notes].join(' ');
  } catch (err) {
    sayWrong(err);
  }
});
// A page of another run is one of this run once it is loaded again.
the('retry').addEventListener('click', () => (foreign(outbox.lost) ? location.reload() : refresh()));

outbox.addEventListener('sent', (e) => take(/** @type {CustomEvent} */ (e).detail));
outbox.addEventListener('refused', (e) => {
  sayWrong(/** @type {CustomEvent} */ (e).detail);
  show();
});
outbox.addEventListener('overtaken', () => refresh());
outbox.addEventListener('changed', () => show());
the('forget').addEventListener('click', () => {
  outbox.forget();
  show();
});
outbox.addEventListener('lost', (e) => {
  the('lost-why').textContent = /** @type {CustomEvent} */ (e).detail;
  the('lost').hidden = false;
  show();
});
outbox.addEventListener('found', () => { the('lost').hidden = true; });
/** Hears of what others do. The browser connects again by itself, but for one that was refused. */
function listen() {
  const events = new EventSource('/api/events');
  for (const name of ['progress', 'state']) events.addEventListener(name, () => refresh());
  events.addEventListener('open', () => refresh()); // what changed before anybody listened
  events.addEventListener('error', () => {
    refresh(); // and so finds out why
    if (events.readyState === EventSource.CLOSED) setTimeout(listen, 3000);
  });
}
listen();
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'visible') refresh(); // a phone comes out of a pocket
});

try {
  const kept = localStorage.getItem(KEPT);
  if (kept) take(JSON.parse(kept));
} catch {
  all = null; // another version's
}
refresh();
keepPage(() => Boolean(outbox.lost));
