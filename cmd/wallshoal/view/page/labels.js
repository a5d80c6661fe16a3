// Fields of the plan by the names that people see: those of the knobs.

/** @typedef {import('./types.js').Fault} Fault */

/** @type {{field: string, label: string}[]} the longest field first, so that none is taken for the beginning of another */
let labels = [];

/**
 * Learns what the knobs are called.
 * @param {{id: string, label: string}[]} knobs
 */
export function learn(knobs) {
  labels = knobs.map((k) => ({ field: k.id, label: k.label })).sort((a, b) => b.field.length - a.field.length || (a.field < b.field ? -1 : 1));
}

/**
 * What a field is called on the page; empty if it is no knob's.
 * @param {string} field
 */
export function label(field) {
  return labels.find((l) => l.field === field)?.label || '';
}

/**
 * A text of the program with its fields as people see them, each with its own name in brackets, for somebody who looks for it in
 * the file. A field of one word, like seed, may be any word of a sentence, and stays.
 * @param {string} text
 */
export function labelled(text) {
  return replaced(text, (of) => `“${of.label}” (${of.field})`);
}

/**
 * A text of the program with its fields as people see them, for somebody who is at the knobs.
 * @param {string} text
 */
export function plainly(text) {
  return replaced(text, (of) => `“${of.label}”`);
}

/**
 * @param {string} text
 * @param {(of: {field: string, label: string}) => string} by
 */
function replaced(text, by) {
  let out = '';
  for (let i = 0; i < text.length;) {
    const before = i > 0 ? text[i - 1] : '';
    const found = /[\w.\]]/.test(before) ? undefined : labels.find((l) => l.field.includes('.') && text.startsWith(l.field, i) && !/^(\w|[.[]\w)/.test(text.slice(i + l.field.length)));
    out += found ? by(found) : text[i];
    i += found ? found.field.length : 1;
  }
  return out;
}

/**
 * What is wrong about a knob, as it is said beside it: without its own field, and what is about another place of the plan with
 * where that is.
 * @param {Fault} f
 * @param {import('./types.js').Knob} knob
 */
export function besideKnob(f, knob) {
  const own = f.field === '' || f.field === knob.id || f.field.startsWith(`${knob.id}.`);
  const placed = knob.type === 'place' || knob.type === 'path';
  const fix = own && placed ? 'drag it onto the wall' : plainly(f.fix);
  const said = `${plainly(f.wrong)}${fix && `; ${fix}`}`;
  if (own) return said;
  const file = f.file && `${f.file}${f.line ? `, line ${f.line}` : ''}`;
  const name = label(f.field) && `“${label(f.field)}”`;
  return `${said} (${[name, file].filter(Boolean).join(', ') || f.field})`;
}

/**
 * A fault of a file as the page says it.
 * @param {Fault} f
 * @returns {Fault}
 */
export function spoken(f) {
  return { ...f, wrong: labelled(f.wrong), fix: labelled(f.fix) };
}
