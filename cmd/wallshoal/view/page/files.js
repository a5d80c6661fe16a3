// The plan as a file: saved, changed by others meanwhile, and printed.

import { h, the, counted } from './dom.js';
import { get, foreign, Refused } from './api.js';
import { labelled, plainly, spoken } from './labels.js';
import { say, sayWrong } from './say.js';
import { Picture } from './picture.js';

/**
 * @param {import('./session.js').Session} session
 * @param {() => Promise<void>} finish ends what is still being typed or turned, for it to be saved as well
 * @param {{waits: () => boolean, refuses: () => boolean}} knobs
 */
export function saving(session, finish, knobs) {
  const mark = the('saved');
  const dialog = the('outside');

  let seen = ''; // what the files held that the dialog speaks of

  /** @param {string} [over] what the files hold that may be written over; nothing that another program changed, if there is none */
  async function save(over = '') {
    try {
      await finish();
      const refused = knobs.refuses() ? ' What was refused is not in it.' : '';
      if (!over && session.state.saved && session.state.outside === '') {
        say(`Nothing to save: ${session.state.file} holds what is shown.${refused}`);
        return;
      }
      const state = await session.write('/api/save', { over });
      say(`Saved ${state.file}${state.pieces.some((p) => p.locked) ? ` and ${state.layoutFile}` : ''}.${refused}`);
    } catch (err) {
      if (err instanceof Refused && err.outside) ask();
      else sayWrong(err);
    }
  }

  /**
   * @param {string} how
   * @param {string[]} files
   */
  function changed(how, files) {
    const [first, second] = files;
    const { saved, layoutFile } = session.state;
    if (how === 'gone') return `${first} is gone from the folder${second ? `, and ${second} was changed by another program` : ''}. What is here can be saved again.`;
    const what = second ? `The files ${first} and ${second} were` : `The ${first === layoutFile ? 'layout' : 'file'} ${first} was`;
    return `${what} changed by another program${saved ? '' : ', while there are changes here that are not saved'}.`;
  }

  /**
   * Shows what was changed on either side, and what can be done about it.
   * @param {boolean} [again] where that is shown still
   */
  async function ask(again = false) {
    try {
      const what = await get('/api/difference');
      if (again && !dialog.open) return;
      if (what.files.length) show(what);
      else dialog.close(); // there is nothing to decide any more
    } catch (err) {
      sayWrong(err);
    }
  }

  /** @param {import('./types.js').Difference} what */
  function show({ files, how, faults, here, there, lost, both, why, seen: now }) {
    seen = now;
    const theirs = how === 'changed';
    const gone = how === 'gone';
    the('outside-what').textContent = theirs || gone ? changed(how, files)
      : `The file ${files.join(' and ')} was changed by another program, and has ${counted(faults.length, 'fault')} now, so that it cannot be shown. Mend it there, or save what is here over it.`;
    the('outside-faults').replaceChildren(...faults.map(spoken).map(faultRow));
    the('outside-sides').hidden = !theirs;
    the('outside-there').replaceChildren(...listed(there));
    the('outside-here').replaceChildren(...listed(here));
    the('outside-lost').hidden = lost.length === 0;
    the('outside-lines').replaceChildren(...first(lost, SHOWN).map((text) => h('li', { text })));
    the('outside-not').hidden = !theirs || both;
    the('outside-not').textContent = `Both cannot be kept: ${plainly(why)}.`;
    the('outside-both').hidden = !both;
    the('outside-theirs').hidden = !theirs;
    the('outside-over').textContent = gone ? 'Save mine again' : 'Save mine over it';
    the('outside-help').replaceChildren(...[
      both && 'Keep both sets what was changed here in the text that is there now, and shows that. It is written when you save, and one Undo brings back what is shown now.',
      theirs && `Take theirs shows the ${files.length > 1 ? 'files as they are' : 'file as it is'} now, without what was changed here; one Undo brings that back.`,
      gone ? 'Save mine again writes the file anew.' : 'Save mine over it writes what is shown here, and what was changed there is gone from the file.',
      'Decide later leaves the file as it is; the line at the top of the page brings you back here.',
    ].filter(Boolean).map((text) => h('li', { text: String(text) })));
    if (!dialog.open) dialog.showModal();
  }

  /**
   * @param {'theirs'|'both'} take
   * @param {string} done what to say then
   */
  async function settle(take, done) {
    if (!await session.change('/api/outside', { take })) {
      await ask(); // it may be another change by now
      return;
    }
    dialog.close();
    say(done);
  }
  the('outside-both').addEventListener('click', () => settle('both', 'Both are kept and shown, and not saved yet.'));
  the('outside-theirs').addEventListener('click', () => settle('theirs', 'The file is shown as it is now. Undo brings back what was here.'));
  the('outside-over').addEventListener('click', () => {
    dialog.close();
    save(seen);
  });
  the('outside-look').addEventListener('click', () => dialog.close());
  the('outside-open').addEventListener('click', () => ask());
  the('save').addEventListener('click', () => save());

  // What is typed into a knob counts once its field is left, and pressing Save leaves it. What was refused does not.
  function standing() {
    if (!session.state) return;
    const { unsaved = [], outside, file } = session.state;
    const saved = session.state.saved && !knobs.waits();
    // The layout beside the plan may be all that is not.
    set(mark, saved ? 'saved' : `● ${unsaved.length > 0 && !unsaved.includes(file) && !knobs.waits() ? `${unsaved.join(', ')} ` : ''}not saved`);
    mark.title = saved || unsaved.length === 0 ? '' : `not saved: ${unsaved.join(', ')}`;
    mark.classList.toggle('unsaved', !saved);
    the('save').disabled = saved && outside !== 'gone';
  }
  for (const event of ['input', 'settled']) the('knobs').addEventListener(event, standing);

  session.addEventListener('state', () => {
    const { saved, outside, outsideFile, file, title, faults } = session.state;
    standing();
    the('title').textContent = title || file;
    the('file').textContent = file;
    document.title = `${saved ? '' : '● '}${title || file}`;
    the('undo').disabled = !session.state.undo;
    the('redo').disabled = !session.state.redo;
    // A notice, and no dialog in the middle of something else.
    const told = outside === 'changed' || outside === 'gone';
    the('outside-note').hidden = !told;
    set(the('outside-why'), told ? changed(outside, [outsideFile]) : '');
    if (dialog.open) ask(true); // what was changed there may be something else now
    showFaults(faults);
  });
  for (const way of ['undo', 'redo']) the(way).addEventListener('click', () => session.change(`/api/${way}`, {}));
  let staying = false; // the program keeps what is not saved while somebody goes from page to page
  the('install').addEventListener('click', () => { staying = true; });
  addEventListener('pageshow', () => { staying = false; });
  addEventListener('beforeunload', (e) => {
    if (!staying && session.state && !session.state.saved) e.preventDefault();
  });
  session.addEventListener('lost', (e) => {
    the('lost-why').textContent = /** @type {CustomEvent} */ (e).detail;
    the('lost').hidden = false;
  });
  session.addEventListener('found', () => {
    the('lost').hidden = true;
    say('The program answers again.');
  });
  // A page of another run is one of this run once it is loaded again.
  the('retry').addEventListener('click', () => (foreign(session.lost) ? location.reload() : session.refresh()));
  return { save };
}

/**
 * Sets a text where it is another: what stays is not read out again.
 * @param {HTMLElement} el
 * @param {string} text
 */
function set(el, text) {
  if (el.textContent !== text) el.textContent = text;
}

/** @param {import('./types.js').Fault[]} faults */
function showFaults(faults) {
  const box = the('faults');
  box.hidden = faults.length === 0;
  document.body.classList.toggle('faulty', faults.length > 0);
  the('faults-what').textContent = `${counted(faults.length, 'fault')} in the file as it is now. The picture is the last good one.`;
  the('faults-list').replaceChildren(...faults.map(faultRow));
}

/** @param {import('./types.js').Fault} f */
function faultRow(f) {
  return h('li', {}, h('b', { text: `${f.file}${f.line ? `, line ${f.line}` : ''}` }), h('span', { text: ` ${labelled(f.field)} ${f.wrong}` }), f.fix && h('span', { class: 'fix', text: f.fix }));
}

const MOST = 12; // knobs, or pieces, that are listed one by one
const SHOWN = 8; // lines of a file that are

/**
 * The first of some texts, and how many more there are.
 * @param {string[]} texts
 * @param {number} most
 */
function first(texts, most) {
  return texts.length > most ? [...texts.slice(0, most), `and ${texts.length - most} more`] : texts;
}

/**
 * What was changed on one side, as rows of a list.
 * @param {import('./types.js').Changes} changes
 */
function listed({ knobs, lines, pieces }) {
  const rows = [...first(knobs, MOST)];
  if (lines) rows.push(`${counted(lines, knobs.length ? 'other line' : 'line')} of the file, not a knob of this page`);
  if (pieces.length) rows.push(`${pieces.length === 1 ? 'piece' : 'pieces'} ${first(pieces.map(String), MOST).join(', ')}, which ${pieces.length === 1 ? 'lies' : 'lie'} otherwise`);
  return (rows.length ? rows : ['nothing']).map((text) => h('li', { text }));
}

/**
 * Keeps what is printed: the picture that is shown, whole, and the figures.
 * @param {Picture} picture
 */
export function printing(picture) {
  const keep = () => {
    const stack = h('div', { class: 'stack' }, ...picture.addresses().map((src) => h('img', { alt: '', src })));
    the('print-picture').replaceChildren(stack);
    the('print-title').textContent = picture.state.title || picture.state.file;
    the('print-face').textContent = `${picture.shownFace()?.title || 'The room'}. Seed ${picture.state.seed}, fingerprint ${picture.state.fingerprint}${picture.state.saved ? '' : ', not saved'}.`;
    the('print-facts').replaceChildren(...[...the('figures').children].map((c) => c.cloneNode(true)));
  };
  addEventListener('beforeprint', keep);
  the('print').addEventListener('click', async () => {
    keep();
    await Promise.all([...the('print-picture').querySelectorAll('img')].map((img) => img.decode().catch(() => {})));
    print();
  });
}
