// The time that a stand took, put right by whoever forgot to end it.

import { the } from './dom.js';
import { say } from './say.js';

/** @param {(minutes: number) => void} took is called with the minutes of the stand that is shown */
export function correcting(took) {
  the('correct').addEventListener('submit', (/** @type {Event} */ e) => {
    e.preventDefault();
    const minutes = Number(the('took').value);
    if (!(minutes > 0)) return;
    took(minutes);
    say(`It took ${minutes} min.`);
    the('took').value = '';
  });
}
