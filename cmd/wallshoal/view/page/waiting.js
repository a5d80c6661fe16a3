// Ticks that wait in this browser are sent from the page of the plan too: it is the one that opens at the address which the
// program printed.

import { counted } from './dom.js';
import { Outbox } from './outbox.js';
import { say, sayWrong } from './say.js';

/** @param {import('./session.js').Session} session */
export function sendingTicks(session) {
  const outbox = new Outbox();
  let sent = 0;
  outbox.addEventListener('sent', () => { sent++; });
  outbox.addEventListener('refused', (e) => sayWrong(/** @type {CustomEvent} */ (e).detail));
  session.addEventListener('state', async () => {
    outbox.fingerprint = session.state.fingerprint;
    await outbox.flush();
    if (!sent) return;
    say(`${counted(sent, 'tick')} that waited in this browser ${sent === 1 ? 'is' : 'are'} sent.`);
    sent = 0;
  });
}
