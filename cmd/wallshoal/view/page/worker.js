// Keeps the page of the hanging on this device, so that it opens while the program is away. A browser runs this
// only where it may trust the address: on the same machine, or by https.
//
// What is kept is the page without its token, and what it is made of. The key is in no address that is kept, and
// what the program answers about the work is none of this worker's business.

const KEPT = 'wallshoal install';
const PAGE = '/install';
const BARE = '/install/kept'; // the page without its token
const FILES = [
  '/page/api.js', '/page/astray.js', '/page/base.css', '/page/dom.js', '/page/hole.js', '/page/icon.svg', '/page/install.css', '/page/install.js',
  '/page/keep.js', '/page/labels.js', '/page/outbox.js', '/page/say.js', '/page/ticks.js', '/page/times.js', '/page/units.js',
];
const PATIENCE = 4000; // ms; a machine that sleeps says nothing at all

let away = false; // the program, when the page was last asked for

/** Fetches all of it, and keeps it once all of it is there. */
async function fill() {
  const found = await Promise.all([BARE, ...FILES].map(async (path) => {
    const answer = await fetch(path, { cache: 'no-store', credentials: 'same-origin' });
    if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
    // Read to its end at once: what is unread holds a connection that the others wait for.
    return { path, answer: new Response(await answer.blob(), { headers: answer.headers }) };
  }));
  const kept = await caches.open(KEPT);
  for (const { path, answer } of found) await kept.put(path === BARE ? PAGE : path, answer);
}

/**
 * What the program answers, or nothing if it does not.
 * @param {Request} request
 */
function asked(request) {
  const waited = new Promise((done) => { setTimeout(done, PATIENCE, null); });
  return Promise.race([fetch(request).catch(() => null), waited]);
}

async function page(event) {
  const answer = await asked(event.request);
  away = !answer || !answer.ok;
  if (answer && answer.ok) event.waitUntil(fill().catch(() => {})); // what was kept before will do
  if (answer && (answer.ok || answer.status === 404)) return answer;
  // A run that does not know this browser yet: the page says so, and has what is still to be sent.
  const kept = await caches.match(PAGE, { cacheName: KEPT });
  return kept || answer || Response.error();
}

async function file(request) {
  const path = new URL(request.url).pathname;
  if (away) {
    const kept = await caches.match(path, { cacheName: KEPT });
    if (kept) return kept;
  }
  const answer = await asked(request);
  if (answer && answer.ok) return answer;
  return (await caches.match(path, { cacheName: KEPT })) || answer || Response.error();
}

addEventListener('install', (event) => {
  skipWaiting();
  event.waitUntil(fill());
});
addEventListener('activate', (event) => event.waitUntil(clients.claim()));
addEventListener('fetch', (event) => {
  const { method, mode, url } = event.request;
  const { origin, pathname, search } = new URL(url);
  if (method !== 'GET' || origin !== location.origin || search) return; // an address with a key is not for keeping
  if (mode === 'navigate' && pathname === PAGE) event.respondWith(page(event));
  else if (FILES.includes(pathname)) event.respondWith(file(event.request));
});
