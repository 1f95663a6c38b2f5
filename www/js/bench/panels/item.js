// The Bench's title block, and the line that says what comes of the stroke.

import { byId } from '../../dom.js';
import { shownItem } from '../state.js';

/** @import { Demand } from '../../engine/protocol.js' */
/** @import { Model } from '../state.js' */

/** What is asked, in a line. @param {Demand} demand */
export function asked({ on, pocket, next, rails, zone }) {
  const where = pocket ? ` in the ${pocket} pocket` : '';
  const way = rails?.length ? `, off ${rails.join(', ')}` : '';
  return `Pot the ${on}${where}${way}${next ? `, then the ${next}` : ''}${zone ? ', stop in the zone' : ''}`;
}

/** @param {string} text */
const sentence = (text) => `${text.charAt(0).toUpperCase()}${text.slice(1)}`.replace(/([^.])$/, '$1.');

/** @param {Model} model @param {(sentence: string) => void} announce */
export function createItemPanel(model, announce) {
  const line = byId('bench-hint', HTMLElement);
  const [task, card, version] = ['task', 'card', 'model'].map((name) => byId(`bench-title-${name}`, HTMLElement));

  model.onDraw((state) => {
    const { trial, ten, zoning, chosen } = state;
    const item = shownItem(state);
    if (!trial || !item) return;
    const named = chosen?.startsWith('ball ') ? chosen.slice(5) : '';
    const met = ten.filter((one) => one.met).length;
    const hint = zoning
      ? 'Drag a zone onto the cloth.'
      : ten.length
        ? `Ten strokes: ${ten.filter(({ potted }) => potted).length} potted, ${met} as asked.`
        : named && named !== 'cue' && item.shot.balls.some(({ id }) => id === named)
          ? `${named} ball: O makes it the ball on, E the next, Delete takes it away.`
          : (state.way && `At ${state.way}: `) + (trial.refusal ? sentence(trial.refusal) : trial.words);
    line.textContent = hint;
    task.textContent = asked(item.demand);
    card.textContent = trial.board.card;
    version.textContent = String(item.model);
  });

  model.onChange(({ item, trial }, before) => {
    if (item && item !== before.item && before.item === null && trial) {
      announce([asked(item.demand), ...trial.board.balls.map(({ words }) => words), trial.stroke.words, trial.words].join('. ').replaceAll('..', '.'));
    }
  });
}
