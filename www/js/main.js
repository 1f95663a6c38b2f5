// Wires the page, nothing else.

import { byId } from './dom.js';
import { createEngine, workerOfPage } from './engine/client.js';
import { fragment } from './links.js';
import { createModel } from './model.js';
import { createAboutDialog } from './panels/about.js';
import { createActions } from './panels/actions.js';
import { createGradePanel } from './panels/grade.js';
import { createItemPanel } from './panels/item.js';
import { createLevelChoice } from './panels/level.js';
import { narrate } from './panels/narrate.js';
import { createVoice } from './panels/say.js';
import { createShareDialog } from './panels/share.js';
import { createStrokePanel } from './panels/stroke.js';
import { createTypeDialog } from './panels/type.js';
import { runClock } from './replay.js';
import { createSession } from './session.js';
import { listenToKeys } from './table/keys.js';
import { listenToPointer } from './table/pointer.js';
import { snapWith } from './table/snap.js';
import { createView } from './table/view.js';

byId('closed', HTMLElement).hidden = true;
byId('sheet', HTMLElement).hidden = false;

const still = matchMedia('(prefers-reduced-motion: reduce)');
const upright = matchMedia('(max-aspect-ratio: 4/5)');
const table = byId('table', SVGSVGElement);

const voice = createVoice();
const engine = createEngine(workerOfPage);
const model = createModel();
const session = createSession(engine, model, voice.say, () => still.matches);
const view = createView(table, model, upright);
const snap = snapWith(engine, model, voice.say);
const full = () => voice.say('A call has room for 33 points.');

listenToPointer(table, model, view, snap, full);
listenToKeys(table, model, view, snap, full);
createStrokePanel(model);
createGradePanel(model);
createItemPanel(model);
createAboutDialog();
createLevelChoice(model, session);
const dialogs = { share: createShareDialog(model, session), type: createTypeDialog(model, engine) };
createActions(model, session, dialogs, voice.quiet);
narrate(model, voice.announce);
runClock(model);
addEventListener('hashchange', () => fragment() && void session.openAddress(fragment()));

void session.start();
