// A hole as it is read at arm's length: its measurements large, and what to mind about it in plain words.

import { h } from './dom.js';

/** @typedef {{severity: string, heading: string, code: string, what: string, todo: string, decided: string}} Warning */
/** @typedef {{number: number, left: string, foot: string, fromLeft: string, fromDatum: string, up: string, aboveFloor: string, bit: string, depth: string, fixing: string, cautions: number[]}} Hole cautions are indexes */

/** @param {Hole} x */
function hole(x) {
  // What does not stand upright has neither datum nor floor: it is set out as its sheets are drawn.
  const facts = [[`from ${x.left}`, x.fromLeft], ['from datum', x.fromDatum], ['above floor', x.aboveFloor],
    [`from ${x.foot}`, x.aboveFloor ? '' : x.up]].filter(([, figure]) => figure);
  const how = [x.bit && `bit ${x.bit}`, x.depth && `depth ${x.depth}`, x.fixing].filter(Boolean).join(', ');
  return h('article', { class: 'hole', 'aria-label': `hole ${x.number}` },
    h('h3', { text: `Hole ${x.number}` }),
    h('dl', {}, ...facts.map(([t, v]) => h('div', {}, h('dt', { text: t }), measure(v)))),
    h('p', { class: 'how', text: how }));
}

/**
 * The holes of a piece: what forbids one before the measurements of all, and the rest after them. What speaks of some of the
 * holes says of which.
 * @param {Hole[]} holes
 * @param {Warning[]} warnings of all stands
 */
export function setOut(holes, warnings) {
  const met = [...new Set(holes.flatMap((x) => x.cautions))].map((i) => ({ i, w: warnings?.[i] })).filter(({ w }) => w).map(({ i, w }) => {
    const of = holes.filter((x) => x.cautions.includes(i)).map((x) => x.number);
    return of.length < holes.length ? { ...w, what: `Hole ${of.join(', ')}: ${w.what}` } : w;
  });
  return [...warned(met.filter((w) => w.severity === 'stop')), ...holes.map(hole), ...warned(met.filter((w) => w.severity !== 'stop'))];
}

/**
 * A length with its unit small, for the figure to be large.
 * @param {string} text
 */
function measure(text) {
  const [, figure, unit] = /^(.*\d)\s*([a-z]+)$/.exec(text) || [text, text, ''];
  return h('dd', {}, figure, unit && h('small', { text: ` ${unit}` }));
}

/**
 * Warnings under what their severity means, the gravest first. The code is small: by it a printed sheet has more.
 * @param {Warning[]} warnings
 * @returns {HTMLElement[]}
 */
export function warned(warnings) {
  return ['stop', 'ask', 'note'].map((severity) => {
    const some = warnings.filter((w) => w.severity === severity);
    return some.length > 0 && h('div', { class: `warned ${severity}` },
      h('h4', { text: some[0].heading }),
      h('ul', {}, ...some.map((w) => h('li', {},
        h('b', { text: w.what }), ` ${w.todo} `,
        w.decided && h('span', { class: 'decided', text: `Acknowledged by the ${w.decided} ` }),
        h('small', { text: w.code })))));
  }).filter(Boolean);
}

/**
 * How many of what severity.
 * @param {Warning[]} warnings
 */
export function summed(warnings) {
  const count = (/** @type {string} */ severity) => warnings.filter((w) => w.severity === severity).length;
  return [['stop', 'not to be hung as it is'], ['ask', 'to be found out'], ['note', 'to be kept in mind']]
    .map(([severity, words]) => [count(severity), words]).filter(([n]) => n).map(([n, words]) => `${n} ${words}`).join(', ');
}
