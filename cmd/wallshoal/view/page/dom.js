// Elements made by calls. Text only ever goes in as text: a plan may come from a stranger.

const SVG = 'http://www.w3.org/2000/svg';

/**
 * @typedef {Record<string, any>} Props attributes by name; `on` holds listeners by event, `text` the text,
 * and `prop` what is set on the element itself. False, null and undefined leave an attribute out.
 */

/**
 * @param {Element} el
 * @param {Props} props
 * @param {(Node|string|null|undefined|false)[]} children
 */
function dress(el, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (name === 'on') {
      for (const [event, listener] of Object.entries(value)) el.addEventListener(event, /** @type {EventListener} */ (listener));
    } else if (name === 'text') {
      el.textContent = value;
    } else if (name === 'prop') {
      Object.assign(el, value);
    } else if (value === true) {
      el.setAttribute(name, '');
    } else if (value !== false && value !== null && value !== undefined) {
      el.setAttribute(name, String(value));
    }
  }
  el.append(...children.filter((c) => c !== null && c !== undefined && c !== false));
  return el;
}

/**
 * Makes an HTML element.
 * @param {string} tag
 * @param {Props} [props]
 * @param {...(Node|string|null|undefined|false)} children
 * @returns {any}
 */
export function h(tag, props = {}, ...children) {
  return dress(document.createElement(tag), props, children);
}

/**
 * Makes an SVG element.
 * @param {string} tag
 * @param {Props} [props]
 * @param {...(Node|string|null|undefined|false)} children
 * @returns {any}
 */
export function s(tag, props = {}, ...children) {
  return dress(document.createElementNS(SVG, tag), props, children);
}

/**
 * The element of the page with that id.
 * @param {string} id
 * @returns {any}
 */
export function the(id) {
  const el = document.getElementById(id);
  if (!el) throw new Error(`the page has no ${id}`);
  return el;
}

/**
 * Whether keys typed there are text.
 * @param {EventTarget|null} target
 */
export function takesText(target) {
  if (!(target instanceof HTMLElement)) return false;
  if (target instanceof HTMLInputElement) return !['checkbox', 'radio', 'button', 'range'].includes(target.type);
  return target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement || target.isContentEditable;
}

/**
 * A count with its noun.
 * @param {number} n
 * @param {string} one
 * @param {string} [many]
 */
export function counted(n, one, many = one + 's') {
  return `${n} ${n === 1 ? one : many}`;
}
