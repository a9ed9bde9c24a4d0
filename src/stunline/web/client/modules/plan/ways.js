// @ts-check
// The ways to the goal under the hand: the server draws them; here they are pointed at and taken.

import { html } from '../../lib/view.js';
import { options, take } from '../goal/search.js';
import { hidden, optionShown, placeWay } from '../state.js';
import { scale } from './view.js';

/** @typedef {import('../goal/search.js').Option} Option */

const END = 11; // radius of what is pressed at a way's end [px]

export function Ways() {
	if (hidden.value || placeWay.value) return null;
	return html`<g class="ways">${options.value.map(WayHandle)}</g>`;
}

/** @param {Option} option */
function WayHandle(option) {
	const { letter, way, end, words, chance, strike } = option;
	const look = () => (optionShown.value = letter);
	const away = () => (optionShown.value = null);
	const grasp = () => take(strike, `strike ${letter}`);
	const keys = (/** @type {KeyboardEvent} */ event) => {
		if (event.key !== 'Enter' && event.key !== ' ') return;
		event.preventDefault();
		event.stopPropagation();
		grasp();
	};
	const held = (/** @type {PointerEvent} */ event) => event.stopPropagation();
	const line = way.map(([x, y]) => `${x} ${-y}`).join('L');
	return html`<g key=${letter} onMouseEnter=${look} onMouseLeave=${away} onPointerDown=${held} onClick=${grasp}>
		<path class="way-grasp" d=${`M${line}`} />
		<circle class="way-end" cx=${end[0]} cy=${-end[1]} r=${END / scale.value} role="button" tabindex="0" data-way-end=${letter}
			aria-label=${`Take ${letter}: ${words}; ${chance}`} onFocus=${look} onBlur=${away} onKeyDown=${keys} />
	</g>`;
}
