// Messages: read out, and shown for a while.

import { h, the } from './dom.js';
import { label, plainly } from './labels.js';
import { Refused, Unreachable } from './api.js';

let timer = 0;

/**
 * Says something that passes.
 * @param {string} text
 * @param {'note'|'wrong'} [kind]
 * @param {string} [fix] what to do about it
 */
export function say(text, kind = 'note', fix = '') {
  const box = the('say');
  box.replaceChildren(h('span', { text }));
  if (fix) box.append(h('span', { class: 'fix', text: fix }));
  box.className = kind;
  clearTimeout(timer);
  timer = window.setTimeout(() => {
    box.className = 'gone';
  }, kind === 'wrong' ? 12000 : Math.min(9000, 1500 + 60 * text.length)); // as long as it takes to read it
}

/**
 * Where in the plan something is wrong: a knob by its name, all else by its line.
 * @param {import('./types.js').Fault} f
 */
function named(f) {
  return label(f.field) ? `“${label(f.field)}”` : f.file && f.line ? `${f.file}, line ${f.line}` : f.field;
}

/**
 * Says what went wrong. What was overtaken by something later is nothing to tell.
 * @param {unknown} err
 */
export function sayWrong(err) {
  if (err instanceof Refused) {
    if (err.status === 409 && !err.outside && !err.holes) return;
    const [first] = err.faults;
    const of = first?.field && plainly(first.wrong) === err.message ? `${named(first)}: ` : '';
    const more = err.faults.length > 1 ? ` (and ${err.faults.length - 1} more)` : '';
    say(of + err.message + more, 'wrong', err.fix);
  } else if (err instanceof Unreachable) {
    say('The program cannot be reached; nothing was changed.', 'wrong');
  } else {
    say(err instanceof Error ? err.message : String(err), 'wrong');
    throw err;
  }
}
