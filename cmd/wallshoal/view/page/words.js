// The words that stand in the pictures, and where: what lies over a picture keeps clear of them.

/** @typedef {{left: number, top: number, right: number, bottom: number}} Box */
/** @typedef {Box & {text: string, size: number, near: number}} Word in the picture's own measures; size: of its letters; near: how many pixels wide the picture is at least where it is seen */

const WIDE = 0.62; // of its letters' size, that a letter is at most on average

/**
 * The words of a picture; none if it does not come.
 * @param {string} address
 * @returns {Promise<Word[]>}
 */
async function wordsAt(address) {
  let text = '';
  try {
    const answer = await fetch(address);
    if (answer.ok) text = await answer.text();
  } catch {
    // Without the program there are no new pictures either.
  }
  if (!text) return [];
  // Styles of the picture are none of the page: here they are read as words.
  const svg = new DOMParser().parseFromString(text.replace(/(<\/?)style>/g, '$1desc>'), 'image/svg+xml');
  return [...svg.querySelectorAll('text')].map(word);
}

/**
 * @param {Element} el
 * @returns {Word}
 */
function word(el) {
  const of = (/** @type {string} */ name) => el.closest(`[${name}]`)?.getAttribute(name) || '';
  const [x, y] = [Number(el.getAttribute('x')), Number(el.getAttribute('y'))];
  const size = Number(of('font-size'));
  const long = Number(el.getAttribute('textLength')) || (el.textContent || '').length * size * WIDE;
  const left = { middle: long / 2, end: long }[of('text-anchor')] || 0;
  const turned = (el.getAttribute('transform') || '').match(/rotate\((\S+)/);
  const turn = (turned ? Number(turned[1]) : 0) * Math.PI / 180;
  const [sin, cos] = [Math.sin(turn), Math.cos(turn)];
  const corners = [[-left, -0.8 * size], [long - left, -0.8 * size], [-left, 0.25 * size], [long - left, 0.25 * size]]
    .map(([dx, dy]) => [x + dx * cos - dy * sin, y + dx * sin + dy * cos]);
  const [xs, ys] = [corners.map((c) => c[0]), corners.map((c) => c[1])];
  const near = el.closest('[class]')?.previousElementSibling?.textContent?.match(/min-width:(\d+)px/);
  return { text: (el.textContent || '').trim(), size, left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys), near: near ? Number(near[1]) : 0 };
}

/** The words of the pictures that are shown. Event `read` once they are known. */
export class Words extends EventTarget {
  /** @param {import('./picture.js').Picture} picture */
  constructor(picture) {
    super();
    this.picture = picture;
    /** @type {Word[]|null} null while they are not known */
    this.all = null;
    this.of = '';
    this.turn = 0;
    picture.addEventListener('face', () => {
      [this.all, this.of] = [null, ''];
    });
  }

  /** Reads the words of what is shown. Those of the work before stay until it is done: things on a wall seldom move. */
  async read() {
    const addresses = this.picture.addresses();
    const of = addresses.join(' ');
    if (of === this.of) return;
    this.of = of;
    const mine = ++this.turn;
    const all = (await Promise.all(addresses.map(wordsAt))).flat();
    if (mine !== this.turn || of !== this.of) return;
    this.all = all;
    this.dispatchEvent(new Event('read'));
  }

  /**
   * Whether a box of the stage, in pixels, is clear of the words that are seen. While they are not known none is.
   * @param {Box} box
   */
  clear(box) {
    if (!this.all) return false;
    const { x, y, scale, width } = this.picture.camera;
    return this.all.every((w) => w.near > width * scale || !meet(box, { left: x + w.left * scale, top: y + w.top * scale, right: x + w.right * scale, bottom: y + w.bottom * scale }));
  }
}

/**
 * @param {Box} a
 * @param {Box} b
 */
export function meet(a, b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
