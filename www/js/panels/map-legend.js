// The legend of a map.

import { html } from '../dom.js';
import { svg } from '../table/svg.js';

/** @import { Name } from '../parts.js' */

/** @param {Name} name @param {...Element} more */
export const scaleBlock = (name, ...more) =>
  html('div', { class: 'scale', id: `${name}-scale`, hidden: '' },
    html('span', { class: 'scale-of', id: `${name}-scale-of`, 'aria-hidden': 'true' }),
    html('span', { class: 'scale-ends', 'aria-hidden': 'true' },
      '0', svg('svg', { class: 'scale-bar', id: `${name}-legend`, viewBox: '0 0 100 8', preserveAspectRatio: 'none' }), '100'),
    ...more);
