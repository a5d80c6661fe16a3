// The handle over the picture by which a picked piece is turned.

import { h } from './dom.js';
import { reachOf } from './pieces.js';
import { turned } from './units.js';

/**
 * The handle by which a picked piece is turned.
 * @param {HTMLElement} layer
 * @param {import('./hand.js').Hand} hand
 */
export function turnHandle(layer, hand) {
  const { pieces, picture } = hand;
  const el = h('button', { class: 'turn', type: 'button', hidden: true, 'aria-label': 'turn the picked piece: drag, or press [ and ]', title: 'turn' });
  layer.append(el);
  const settle = () => {
    const [put] = hand.puts();
    el.hidden = !put || picture.face < 0;
    if (el.hidden) return;
    const centre = picture.camera.pixel(picture.board(put.at));
    const far = reachOf(picture.state.kinds[put.kind]) * picture.camera.scale + 26;
    const angle = (put.heading * Math.PI) / 180;
    el.style.transform = `translate(${centre.x + far * Math.sin(angle)}px, ${centre.y - far * Math.cos(angle)}px)`;
  };
  for (const [of, event] of [[pieces, 'pick'], [pieces, 'drawn'], [hand, 'ghost'], [picture.camera, 'look']]) {
    /** @type {EventTarget} */ (of).addEventListener(/** @type {string} */ (event), settle);
  }
  el.addEventListener('pointerdown', (/** @type {PointerEvent} */ e) => {
    if (e.button !== 0) return;
    e.stopPropagation();
    hand.drop();
    const from = hand.puts();
    const [first] = from;
    const bearing = (/** @type {[number, number]} */ p) => (Math.atan2(p[0] - first.at[0], p[1] - first.at[1]) * 180) / Math.PI;
    hand.follow(e, 2, {
      move: (_, to) => hand.show(hand.turnedBy(Math.round(turned(bearing(to)) - first.heading), from)),
      end: () => hand.put(),
      off: () => hand.drop(),
    });
  });
}
