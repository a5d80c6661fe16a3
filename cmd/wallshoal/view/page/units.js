// Lengths in the units of the plan.

const MM = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 };
const DIGITS = { mm: 0, cm: 1, m: 3 };

/**
 * Writes a length of so many mm as sheets and cautions have it: feet and inches to a sixteenth of an inch.
 * @param {number} mm
 * @param {string} units
 */
export function length(mm, units) {
  if (units === 'in' || units === 'ft') return inches(mm, 16);
  const unit = units in DIGITS ? /** @type {keyof DIGITS} */ (units) : 'mm';
  const value = (mm / MM[unit]).toFixed(DIGITS[unit]);
  return `${Number(value) === 0 ? value.replace('-', '') : value} ${unit}`;
}

/**
 * Writes mm as feet and inches, to so many parts of an inch, a power of two.
 * @param {number} mm
 * @param {number} parts
 */
function inches(mm, parts) {
  const n = Math.round(Math.abs(mm) * parts / MM.in);
  const feet = Math.floor(n / (12 * parts));
  const rest = n - feet * 12 * parts;
  const whole = Math.floor(rest / parts);
  let [top, bottom] = [rest % parts, parts];
  while (top > 0 && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  const shown = [(whole > 0 || feet > 0 || top === 0) && String(whole), top > 0 && `${top}/${bottom}`].filter(Boolean).join(' ');
  return `${mm < 0 && n > 0 ? '-' : ''}${feet ? `${feet}'-` : ''}${shown}"`;
}

/**
 * A value of a knob in the notation of the page: a bare length in inches or feet as the remarks beside it have theirs, if it
 * is a whole number of sixty-fourths of an inch; all else as the plan writes it.
 * @param {import('./types.js').Knob} knob
 * @param {string} value
 */
export function notation(knob, value) {
  if (knob.type !== 'length' || (knob.unit !== 'in' && knob.unit !== 'ft') || !/^-?\d+(\.\d+)?$/.test(value)) return value;
  const mm = Number(value) * MM[/** @type {'in'} */ (knob.unit)];
  const fine = MM.in / 64;
  return Math.abs(mm - Math.round(mm / fine) * fine) < 0.005 ? inches(mm, 64) : value;
}

/**
 * A value of a knob in words.
 * @param {import('./types.js').Knob} knob
 * @param {string} value
 */
export function said(knob, value) {
  if (knob.type === 'switch') return value === 'true' ? 'on' : 'off';
  const text = notation(knob, value);
  if (!/^[-\d.]+$/.test(text)) return text;
  if (knob.type === 'degrees') return `${text}°`;
  return knob.type === 'length' ? `${text} ${knob.unit}` : text;
}

/**
 * How far an arrow key moves, mm: something round in the plan's units.
 * @param {string} units
 */
export function nudge(units) {
  return units === 'in' || units === 'ft' ? 25.4 / 16 : 1;
}

/**
 * Writes a heading, from 0 up to 360.
 * @param {number} degrees
 */
export function heading(degrees) {
  return `${Math.round(turned(degrees) * 10) / 10}°`;
}

/**
 * A heading between 0 and 360, to a hundredth of a degree.
 * @param {number} degrees
 */
export function turned(degrees) {
  return Math.round((((degrees % 360) + 360) % 360) * 100) / 100 % 360;
}

/**
 * Whether up the face is up the room: on a ceiling, or on what is looked down on, nothing is so high up.
 * @param {import('./types.js').Face|null} face
 */
export function upright(face) {
  return !face || face.upright !== false && !face.ceiling && !/(^|\s)(top|underside|head|sill)$/.test(face.face);
}

/**
 * Writes a place of a face.
 * @param {import('./types.js').Point} at
 * @param {string} units
 * @param {import('./types.js').Face|null} face
 */
export function place(at, units, face) {
  return `${length(at[0], units)} from the left, ${length(at[1], units)} ${upright(face) ? 'up' : 'from the lower edge'}`;
}

/**
 * Writes how far it is from one place of a face to another.
 * @param {import('./types.js').Point} a
 * @param {import('./types.js').Point} b
 * @param {string} units
 * @param {import('./types.js').Face|null} face
 */
export function apart(a, b, units, face) {
  const [run, rise] = [b[0] - a[0], b[1] - a[1]];
  const way = upright(face) ? (rise < 0 ? 'down' : 'up') : 'the other way';
  return `${length(Math.hypot(run, rise), units)} (across ${length(Math.abs(run), units)}, ${way} ${length(Math.abs(rise), units)})`;
}
