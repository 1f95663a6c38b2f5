// The legend of a map.

import { html } from '../dom.js';
import { svg } from '../table/svg.js';

/** @import { Name } from '../parts.js' */

/** @param {Name} name @param {...Element} more */
export const scaleBlock = (name, ...more) =>
  html('div', { class: 'scale', id: `${name}-scale`, hidden: '' },
    svg('svg', { class: 'scale-bar', id: `${name}-legend`, viewBox: '0 0 100 8', preserveAspectRatio: 'none', 'aria-hidden': 'true' }),
    html('span', { class: 'scale-ends', 'aria-hidden': 'true' }, html('span', {}, '0'), html('span', { id: `${name}-scale-of` }), html('span', {}, '100')),
    ...more);
