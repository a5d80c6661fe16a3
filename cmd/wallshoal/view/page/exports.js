// The files that are drawn of a plan: one by one, or all in a folder.

import { h, the, counted } from './dom.js';
import { fetched, post, Refused } from './api.js';
import { sayWrong } from './say.js';

/** The files of a pack that are often wanted by themselves. */
const EXPORTS = [
  ['hole-map.pdf', 'the hole map: paper templates at full size to drill by'],
  ['client.pdf', 'pages for the client'],
  ['client.html', 'the client’s page'],
  ['order.pdf', 'the order of work: what hangs from where, one after the other'],
  ['scope.pdf', 'what it takes and costs, and by when'],
  ['scope.md', 'the same as text'],
  ['layout.yaml', 'where every piece is, as a file'],
];

/** @param {import('./session.js').Session} session */
export function exporting(session) {
  const dialog = the('export');
  const note = the('pack-note');
  const wrong = the('export-wrong');
  const list = the('pack-warnings');
  const button = the('pack');

  /**
   * Does what takes a while, and says in the dialog what is refused: outside of it nothing is seen.
   * @param {string} words
   * @param {() => Promise<string>} does returns what to say then
   */
  async function busy(words, does) {
    wrong.hidden = true;
    list.replaceChildren();
    note.textContent = words;
    try {
      note.textContent = await does();
    } catch (err) {
      note.textContent = '';
      if (!(err instanceof Refused)) {
        sayWrong(err);
        wrong.textContent = err instanceof Error ? err.message : String(err);
      } else {
        wrong.textContent = `${err.message}${err.fix ? '; ' + err.fix : ''}`;
        list.replaceChildren(...err.faults.map((f) => h('li', { text: `${f.field ? `${f.field}: ` : ''}${f.wrong}${f.fix && f.fix !== err.fix ? '; ' + f.fix : ''}` })));
      }
      wrong.hidden = false;
    }
  }

  the('open-export').addEventListener('click', () => {
    wrong.hidden = true;
    note.textContent = '';
    list.replaceChildren();
    dialog.showModal();
  });
  the('export-files').replaceChildren(...EXPORTS.map(([file, what]) => h('li', {},
    h('a', { href: `/export/${file}`, download: file, text: file, on: { click: (/** @type {MouseEvent} */ e) => {
      e.preventDefault();
      busy(`drawing ${file} …`, async () => {
        const { blob, name } = await fetched(`/export/${file}`);
        const address = URL.createObjectURL(blob);
        h('a', { href: address, download: name || file }).click();
        setTimeout(() => URL.revokeObjectURL(address), 60000);
        return `${name || file} is with the downloads.`;
      });
    } } }), h('span', { class: 'help', text: ` ${what}` }))));
  button.addEventListener('click', async () => {
    button.disabled = true;
    await busy('writing …', async () => {
      const { folder, files, warnings } = await post('/api/pack', {});
      list.replaceChildren(...warnings.map((/** @type {string} */ w) => h('li', { text: w })));
      return `${counted(files.length, 'file')} in the folder ${folder}, beside ${session.state.file}.`;
    });
    button.disabled = false;
  });
}
