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
 * A text of the program with its fields as people see them, each with its own name in brackets. A field of one word, like
 * seed, may be any word of a sentence, and stays.
 * @param {string} text
 */
export function labelled(text) {
  let out = '';
  for (let i = 0; i < text.length;) {
    const before = i > 0 ? text[i - 1] : '';
    const found = /[\w.\]]/.test(before) ? undefined : labels.find((l) => l.field.includes('.') && text.startsWith(l.field, i) && !/^(\w|[.[]\w)/.test(text.slice(i + l.field.length)));
    out += found ? `“${found.label}” (${found.field})` : text[i];
    i += found ? found.field.length : 1;
  }
  return out;
}

/**
 * A fault as the page says it.
 * @param {Fault} f
 * @returns {Fault}
 */
export function spoken(f) {
  return { ...f, wrong: labelled(f.wrong), fix: labelled(f.fix) };
}
