// The one place that talks to the server.

import { plainly } from './labels.js';

const PATIENCE = 10000; // ms that a phone waits: a machine that sleeps says nothing at all

/** @typedef {import('./types.js').Fault} Fault */

/** What the server refused, in its words. */
export class Refused extends Error {
  /**
   * @param {number} status
   * @param {{error?: string, fix?: string, faults?: Fault[], outside?: boolean, holes?: boolean, layout?: boolean, hangs?: boolean}} body
   */
  constructor(status, body) {
    super(plainly(body.error || `the program answered ${status}`));
    this.status = status;
    this.fix = plainly(body.fix || '');
    this.faults = body.faults || [];
    this.outside = Boolean(body.outside);
    this.holes = Boolean(body.holes);
    this.layout = Boolean(body.layout);
    this.hangs = Boolean(body.hangs);
  }

  /** Whether the page is of another run of the program, which knows nothing of it. */
  get stranger() {
    return this.status === 401 || (this.status === 403 && this.message.includes('another run'));
  }
}

/** Nobody answered. */
export class Unreachable extends Error {
  constructor() {
    super('the program cannot be reached');
  }
}

let renewed = ''; // the token of a later run than the page's own

function token() {
  return renewed || document.querySelector('meta[name="write-token"]')?.getAttribute('content') || '';
}

/** Asks for the token of the run that answers now: a page of it has it, for whoever is let in. */
async function renew() {
  let text;
  try {
    const answer = await fetch('/install', { credentials: 'same-origin', cache: 'no-store', signal: AbortSignal.timeout(PATIENCE) });
    if (!answer.ok) throw new Refused(answer.status, {});
    text = await answer.text();
  } catch (err) {
    throw err instanceof Refused ? err : new Unreachable();
  }
  renewed = new DOMParser().parseFromString(text, 'text/html').querySelector('meta[name="write-token"]')?.getAttribute('content') || '';
}

/**
 * @param {string} path
 * @param {RequestInit} how
 */
async function ask(path, how) {
  let answer;
  try {
    answer = await fetch(path, { ...how, credentials: 'same-origin', cache: 'no-store' });
  } catch {
    throw new Unreachable();
  }
  let body;
  try {
    body = await answer.json();
  } catch {
    body = {};
  }
  if (!answer.ok) throw new Refused(answer.status, body);
  return body;
}

/**
 * Fetches a file, with the name that the server gives it.
 * @param {string} path
 */
export async function fetched(path) {
  let answer;
  try {
    answer = await fetch(path, { credentials: 'same-origin', cache: 'no-store' });
  } catch {
    throw new Unreachable();
  }
  if (!answer.ok) throw new Refused(answer.status, await answer.json().catch(() => ({})));
  const [, name] = /filename="([^"/\\]+)"/.exec(answer.headers.get('Content-Disposition') || '') || [];
  return { blob: await answer.blob(), name: name || '' };
}

/**
 * Asks for something and changes nothing.
 * @param {string} path
 * @param {boolean} [hasty] and waits no longer than a phone should
 * @returns {Promise<any>}
 */
export function get(path, hasty = false) {
  return ask(path, { method: 'GET', ...hasty && { signal: AbortSignal.timeout(PATIENCE) } });
}

/**
 * Changes something.
 * @param {string} path
 * @param {object} body
 * @returns {Promise<any>}
 */
export function post(path, body) {
  return ask(path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', 'X-Wallshoal-Token': token() },
    body: JSON.stringify(body),
  });
}

/**
 * Changes something, for a page that outlives the run that it is of: where its token is that of another run it asks for
 * the new one, and once more. It waits no longer than a phone should.
 * @param {string} path
 * @param {object} body
 * @returns {Promise<any>}
 */
export async function postAnew(path, body) {
  const once = () => ask(path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', 'X-Wallshoal-Token': token() },
    body: JSON.stringify(body),
    signal: AbortSignal.timeout(PATIENCE),
  });
  try {
    return await once();
  } catch (err) {
    if (!(err instanceof Refused && err.stranger && err.status === 403)) throw err;
  }
  await renew();
  return once();
}

/**
 * Returns a function that does one thing at a time: what is asked for meanwhile waits, and only the
 * latest of it is done.
 * @template T
 * @param {(what: T) => Promise<unknown>} does
 * @returns {(what: T) => Promise<void>}
 */
export function latest(does) {
  /** @type {Promise<void>|null} */
  let busy = null;
  /** @type {{what: T}|null} */
  let next = null;
  async function run() {
    while (next) {
      const { what } = next;
      next = null;
      await does(what);
    }
  }
  return (what) => {
    next = { what };
    if (!busy) {
      busy = run().finally(() => {
        busy = null;
      });
    }
    return busy;
  };
}

/**
 * Why there is no going on, in words; empty if the error is no reason for that.
 * @param {unknown} err
 */
export function cut(err) {
  if (err instanceof Unreachable) return 'The program cannot be reached: is wallshoal view still running?';
  if (!(err instanceof Refused) || !err.stranger) return '';
  return err.status === 401
    ? 'The program was started anew, and the key of this page is that of another run: open the new address that the program printed.'
    : `The program was started anew, and this page is that of another run: ${AGAIN}.`;
}

const AGAIN = 'load it again';

/**
 * Whether a page can be cured by loading it again: it can look, and change nothing.
 * @param {string} why as cut says it
 */
export function foreign(why) {
  return why.includes(AGAIN);
}

let gestures = 0;

/** A name that no other gesture of any page has. */
export function gesture() {
  gestures++;
  return `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 8)}-${gestures}`;
}
