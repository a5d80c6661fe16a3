// Whether this page can be opened while the program is away, and what to say where it cannot.

import { the } from './dom.js';

const READ = 'wallshoal keep read'; // that somebody read what cannot be kept

/** Has the browser keep the page where it can, and returns whether it does. */
async function kept() {
  if (!isSecureContext || !('serviceWorker' in navigator)) return false;
  try {
    const { installing, active } = await navigator.serviceWorker.register('/page/worker.js', { scope: '/install' });
    if (active) return true;
    return await new Promise((done) => {
      installing?.addEventListener('statechange', () => {
        if (installing.state === 'activated') done(true);
        else if (installing.state === 'redundant') done(false);
      });
    });
  } catch {
    return Boolean((await navigator.serviceWorker.getRegistration('/install'))?.active);
  }
}

/**
 * Keeps the page, or says that it cannot be kept before that matters.
 * @param {() => boolean} lost whether nobody answers just now
 */
export async function keepPage(lost) {
  document.body.dataset.kept = 'asking';
  const keeps = await kept().catch(() => false);
  document.body.dataset.kept = keeps ? 'yes' : 'no';
  the('kept-note').textContent = keeps
    ? 'This page is kept on this device: it opens while the program is away, too.'
    : 'The browser cannot keep this page at this address. While the program is away it stays usable as long as it is open.';
  the('stay').hidden = keeps;
  if (keeps) return;
  let read = false;
  try {
    read = sessionStorage.getItem(READ) === 'yes';
  } catch {
    // It is said again then.
  }
  the('keep').hidden = read;
  the('keep-read').addEventListener('click', () => {
    the('keep').hidden = true;
    try {
      sessionStorage.setItem(READ, 'yes');
    } catch {
      // It is said again after a reload.
    }
  });
  // Closed or loaded again now, it would be gone: the browser asks first.
  addEventListener('beforeunload', (e) => {
    if (lost()) e.preventDefault();
  });
}
