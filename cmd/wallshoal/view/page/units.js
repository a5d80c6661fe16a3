// Lengths in the units of the plan.

const MM = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 };
const DIGITS = { mm: 0, cm: 1, m: 3, in: 2, ft: 2 };

/**
 * Writes a length of so many mm.
 * @param {number} mm
 * @param {string} units
 */
export function length(mm, units) {
  const unit = units in MM ? /** @type {keyof MM} */ (units) : 'mm';
  const value = (mm / MM[unit]).toFixed(DIGITS[unit]);
  return `${value === '-0' ? '0' : value} ${unit}`;
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
