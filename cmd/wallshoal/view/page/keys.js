// The keys, and the dialog that lists them.

import { h, the, takesText } from './dom.js';
import { ROOM } from './picture.js';

/** @typedef {{session: import('./session.js').Session, picture: import('./picture.js').Picture, pieces: import('./pieces.js').Pieces, hand: import('./hand.js').Hand, tools: import('./tools.js').Tools, files: {save: () => void}}} Parts */

const LIST = [
  ['Ctrl S', 'save'], ['Ctrl Z, Ctrl Shift Z', 'undo, redo'],
  ['+ − 0', 'closer, farther, all of it'], ['arrows', 'move the picture; with pieces picked, move them'],
  ['space and drag', 'move the picture, wherever the pointer is'], ['Page Up, Page Down', 'the wall before, the next wall, round and round'],
  ['Tab', 'from piece to piece; Esc leaves'], ['Space', 'keep a piece picked, for others to be picked with it'],
  ['Shift click', 'pick another with it'], ['Shift arrows', 'move ten times as far'],
  ['[ ]', 'turn by 1°; with Shift by 15°'], ['L', 'lock, unlock: what is locked stays when the rest is laid anew, and a hand can still move it'], ['S', 'two picked pieces change places'],
  ['Delete', 'take pieces away'], ['A', 'add a piece; Enter puts it'], ['M', 'measure; Enter sets a point'],
  ['H', 'as it will look, or the hole map'], ['C', 'compare seeds and options'], ['Esc', 'leave a tool, pick nothing'], ['?', 'these keys'],
];

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** @param {Parts} parts */
export function keys(parts) {
  const { session, picture, pieces, hand, tools, files } = parts;
  const { stage } = picture.camera;
  const dialog = the('keys');
  the('keys-list').replaceChildren(...LIST.flatMap(([key, does]) => [h('dt', { text: key }), h('dd', { text: does })]));
  the('open-keys').addEventListener('click', () => dialog.showModal());

  /** @param {number} by */
  function face(by) {
    // Not to the room, where there is nothing to pick.
    const buttons = /** @type {HTMLButtonElement[]} */ ([...the('faces').querySelectorAll('button')]).filter((b) => Number(b.dataset.face) !== ROOM);
    const now = buttons.findIndex((b) => b.getAttribute('aria-pressed') === 'true');
    const next = now < 0 && by < 0 ? -1 : now + by;
    buttons[(next + buttons.length) % buttons.length]?.click();
  }
  function look() {
    const other = /** @type {HTMLInputElement} */ (document.querySelector('input[name=look]:not(:checked)'));
    other.click();
  }
  function leave() {
    if (tools.tool !== 'pick') tools.take('pick');
    else if (hand.ghost.length && hand.timer) hand.put(); // turned or nudged by keys: that stays
    else if (hand.ghost.length) hand.drop();
    else pieces.clear();
    if (document.activeElement?.closest('.pieces')) stage.focus();
  }
  /** @type {Record<string, () => void>} */
  const simple = {
    '+': () => picture.camera.zoom(1.25), '=': () => picture.camera.zoom(1.25), '-': () => picture.camera.zoom(0.8), 0: () => picture.camera.fit(),
    '[': () => turn(-1), ']': () => turn(1), '{': () => turn(-15), '}': () => turn(15),
    l: () => hand.lock(), s: () => hand.swap(), Delete: () => hand.all('delete'), a: () => the('tool-add').click(), m: () => the('tool-measure').click(),
    h: look, c: () => the('open-compare').click(), '?': () => dialog.showModal(), Escape: leave, PageUp: () => face(-1), PageDown: () => face(1),
  };
  /** @param {number} by degrees */
  function turn(by) {
    if (!tools.twist(by) && pieces.picked().length) hand.twist(by);
  }

  addEventListener('keydown', (e) => {
    if (document.querySelector('dialog[open]')) return;
    const { key } = e;
    if (e.ctrlKey || e.metaKey) {
      const low = key.toLowerCase();
      if (low === 's') files.save();
      else if (takesText(e.target)) return; // undo within a text field is the field's
      else if (low === 'z') session.change(e.shiftKey ? '/api/redo' : '/api/undo', {});
      else if (low === 'y') session.change('/api/redo', {});
      else return;
      e.preventDefault();
      return;
    }
    if (e.altKey || takesText(e.target)) return;
    const el = /** @type {HTMLElement} */ (e.target);
    const onStage = el === document.body || stage.contains(el);
    const way = ARROWS[/** @type {'ArrowUp'} */ (key)];
    if (way && onStage) {
      const [dx, dy] = way.map((v) => v * (e.shiftKey ? 10 : 1));
      if (tools.nudge(dx, dy)) {
        // the tool took it
      } else if (pieces.picked().length) hand.nudge(dx, dy);
      else picture.camera.pan(-dx * 40, dy * 40);
    } else if (key === 'Enter' && tools.tool !== 'pick' && onStage) {
      tools.begin();
      tools.set();
    } else {
      const does = simple[key.length === 1 ? key.toLowerCase() : key];
      if (!does || (key.startsWith('Page') && !onStage)) return;
      does();
    }
    e.preventDefault();
  });

  let space = false;
  addEventListener('keydown', (e) => {
    if (e.key !== ' ' || takesText(e.target) || /** @type {HTMLElement} */ (e.target).closest('button, summary, a, input, .pieces')) return;
    space = true;
    stage.classList.add('pannable');
    e.preventDefault();
  });
  addEventListener('keyup', (e) => {
    if (e.key !== ' ') return;
    space = false;
    stage.classList.remove('pannable');
  });
  addEventListener('blur', () => { space = false; });
  return () => space;
}
