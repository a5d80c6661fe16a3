// Puts the page together.

import { the } from './dom.js';
import { Session } from './session.js';
import { Camera, steer } from './camera.js';
import { Picture, ROOM } from './picture.js';
import { Pieces } from './pieces.js';
import { Hand } from './hand.js';
import { Tools } from './tools.js';
import { Things } from './things.js';
import { PlaceHandles, written } from './handles.js';
import { turnHandle } from './turning.js';
import { Knobs } from './knobs.js';
import { FiguresView } from './figures.js';
import { Comparison } from './compare.js';
import { saving, printing } from './files.js';
import { exporting } from './exports.js';
import { kindsPanel, pickedPanel, layersPanel, facesStrip } from './panel.js';
import { announcing, ghostWords } from './told.js';
import { hangingPanel } from './hung.js';
import { keys } from './keys.js';
import { sendingTicks } from './waiting.js';
import { say } from './say.js';

const FACE = 'wallshoal face'; // the title of the face that is shown, for a reload

// Knobs whose effect is seen in an overlay alone, by how their fields begin.
const SHOWN_BY = [['room.datum', 'datum'], ['print.', 'tiles']];

const session = new Session();
const camera = new Camera(the('stage'), the('board'));
const picture = new Picture(the('board'), camera);
const pieces = new Pieces(the('board'), picture);
const hand = new Hand(session, pieces);
const tools = new Tools(hand, the('marks'));
const figures = new FiguresView(the('figures'), the('figures-more'), () => session.writing > 0);

const knobs = new Knobs(the('knobs'), session, (knob) => {
  sheet(false);
  places.reveal(knob);
}, (knob) => {
  if (picture.face === ROOM) {
    say('Choose a wall below the picture first.');
    return;
  }
  const { x, y } = camera.middle();
  const [px, py] = picture.place({ x, y });
  const [first] = knob.places;
  // A path goes with all its points.
  const spots = knob.places.map((p) => ({ face: picture.face, at: /** @type {[number, number]} */ ([px + p.at[0] - first.at[0], py + p.at[1] - first.at[1]]) }));
  knobs.turn(knob, written(spots));
});
const places = new PlaceHandles(the('marks'), picture, (knob, value, name) => knobs.turn(knob, value, name));
new Things(the('marks'), picture, pieces, places.lettering);
knobs.judged = (/** @type {import('./types.js').Knob} */ knob, /** @type {string} */ wrong) => places.tell(knob, wrong);

const files = saving(session, async () => {
  if (document.activeElement instanceof HTMLInputElement) document.activeElement.blur();
  await hand.put();
  await knobs.rest();
}, knobs);
sendingTicks(session);
exporting(session);
printing(picture);
kindsPanel(session, tools);
hangingPanel(session, picture, pieces);
pickedPanel(hand);
announcing(the('marks'), hand);
const overlay = layersPanel(picture);
knobs.turned = (/** @type {import('./types.js').Knob} */ knob) => {
  const [, layer] = SHOWN_BY.find(([field]) => knob.id.startsWith(field)) || [];
  if (layer) overlay(layer);
};
facesStrip(session, picture);
turnHandle(the('marks'), hand);
ghostWords(the('marks'), hand); // after the handle, which they keep clear of
new Comparison(session, picture);
steer(camera, keys({ session, picture, pieces, hand, tools, files }));

session.addEventListener('busy', () => figures.mark());
session.painters.push((state) => picture.paint(state).then(() => figures.follow(state)));
picture.gone = () => session.refreshSoon();

/** Why there is nothing to pick on the face that is shown, and nothing can be put there; empty if it takes pieces. */
function bare() {
  const face = picture.shownFace();
  return face && !face.used && pieces.here().length === 0 ? `${face.title} takes no pieces: the plan leaves it out.` : '';
}

for (const tool of ['pick', 'measure', 'add']) {
  const button = the(`tool-${tool}`);
  button.addEventListener('click', (/** @type {MouseEvent} */ e) => {
    if (tool !== 'pick' && picture.face === ROOM) {
      say('Choose a wall below the picture first.');
      return;
    }
    if (tool === 'add' && bare()) {
      say(bare());
      return;
    }
    tools.take(tools.tool === tool ? 'pick' : tool);
    if (tools.tool === 'pick') return;
    the('stage').focus({ preventScroll: true });
    if (e.detail === 0) tools.begin(); // by a key: there is no pointer to show where
  });
  tools.addEventListener('tool', () => {
    button.setAttribute('aria-pressed', String(tools.tool === tool));
    the('add-kind-box').hidden = tools.tool !== 'add';
  });
}
tools.take('pick');
the('closer').addEventListener('click', () => camera.zoom(1.3));
the('farther').addEventListener('click', () => camera.zoom(1 / 1.3));
the('whole').addEventListener('click', () => camera.fit());

/** @param {boolean} [open] */
function sheet(open = !document.body.classList.contains('sheet-open')) {
  document.body.classList.toggle('sheet-open', open);
  the('sheet-toggle').setAttribute('aria-expanded', String(open));
  if (open) the('stage').scrollIntoView({ block: 'start' }); // what is turned is seen to turn
}
the('sheet-toggle').addEventListener('click', () => sheet());
the('figures-all').addEventListener('click', () => {
  const all = document.body.classList.toggle('figures-all');
  the('figures-all').setAttribute('aria-expanded', String(all));
  the('figures-all').textContent = all ? 'fewer' : 'more';
  the('figures-all').setAttribute('aria-label', all ? 'fewer figures' : 'more figures');
});

picture.addEventListener('face', () => {
  const face = picture.shownFace();
  const why = bare();
  if (why) {
    if (tools.tool === 'add') tools.take('pick');
    say(why);
  }
  the('stage').setAttribute('aria-label', `picture of ${face ? face.title : 'the room; Page Down leads to the walls'}; arrow keys pan, plus and minus zoom`);
  document.body.classList.toggle('room', !face);
  try {
    sessionStorage.setItem(FACE, face?.title || '');
  } catch {
    // A reload shows the wall with the most pieces then.
  }
});
document.body.classList.add('room');

function kept() {
  try {
    return sessionStorage.getItem(FACE);
  } catch {
    return null;
  }
}

/**
 * The face to begin with: the one that was shown last, and at first the one with the most pieces.
 * @param {import('./types.js').State} state
 */
function first({ faces, pieces }) {
  const last = kept();
  const again = faces.find((f) => f.title === last);
  if (again || last === '') return again ? again.index : ROOM;
  const hung = faces.map((f) => pieces.filter((p) => p.face === f.index).length);
  const most = Math.max(0, ...hung);
  return most > 0 ? faces[hung.indexOf(most)].index : ROOM;
}
session.addEventListener('state', () => {
  const face = first(session.state);
  if (face !== ROOM) picture.begin(session.state, face);
}, { once: true });

await session.refresh();
session.listen();
