// The one place that talks to the server.

/** @typedef {import('./types.js').Fault} Fault */

/** What the server refused, in its words. */
export class Refused extends Error {
  /**
   * @param {number} status
   * @param {{error?: string, fix?: string, faults?: Fault[], outside?: boolean}} body
   */
  constructor(status, body) {
    super(body.error || `the program answered ${status}`);
    this.status = status;
    this.fix = body.fix || '';
    this.faults = body.faults || [];
    this.outside = Boolean(body.outside);
  }
}

/** Nobody answered. */
export class Unreachable extends Error {
  constructor() {
    super('the program cannot be reached');
  }
}

function token() {
  return document.querySelector('meta[name="write-token"]')?.getAttribute('content') || '';
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
 * Asks for something and changes nothing.
 * @param {string} path
 * @returns {Promise<any>}
 */
export function get(path) {
  return ask(path, { method: 'GET' });
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

let gestures = 0;

/** A name that no other gesture of any page has. */
export function gesture() {
  gestures++;
  return `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 8)}-${gestures}`;
}
