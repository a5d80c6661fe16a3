// What hangs by an earlier layout than the one that is shown.

import { h, the } from './dom.js';
import { say } from './say.js';

/** @typedef {{id: number, code: string, where: string, holes: string}} Astray hangs where the layout has no such holes */

/**
 * Shows what hangs by an earlier layout, each piece with the button to say that it is down.
 * @param {{moved?: string, astray?: Astray[], left?: string}} stands
 * @param {import('./outbox.js').Outbox} outbox
 * @param {(deed: import('./outbox.js').Deed) => void} send
 */
export function showAstray({ moved = '', astray = [], left = '' }, outbox, send) {
  const sent = new Set(outbox.waiting.flatMap((w) => w.deed.marks || []));
  const rows = astray.filter((a) => !sent.has(a.holes));
  the('astray-box').hidden = rows.length === 0 && !left;
  const text = rows.length ? `${moved}.` : '';
  if (the('astray-what').textContent !== text) the('astray-what').textContent = text;
  the('left-what').textContent = left && `${left}.`;
  the('astray').replaceChildren(...rows.map((a) => h('li', {}, h('span', { text: `${a.id} ${a.code}${a.where ? `: ${a.where}` : ''}` }),
    h('button', { type: 'button', text: `${a.id} is down`, on: { click: () => {
      send({ do: 'left', marks: [a.holes] });
      say(`Piece ${a.id} is down; its old holes stay counted.`);
    } } }))));
}
