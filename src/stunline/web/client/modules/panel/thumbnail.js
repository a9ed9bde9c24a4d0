// @ts-check
// The white's face, small, with the contact point of a strike that was found.

import { html } from '../../lib/view.js';
import { cueBallRadius, limits } from './strike_edits.js';

/** The white's face with the contact point. @param {{ height: number, side: number }} props [mm] */
export function Thumbnail({ height, side }) {
	const radius = cueBallRadius();
	return html`<svg class="option-face" viewBox=${`${-radius - 1} ${-radius - 1} ${2 * radius + 2} ${2 * radius + 2}`} aria-hidden="true">
		<circle r=${radius} /><circle class="option-limit" r=${limits().miscue} />
		<path d=${`M${-radius} 0H${radius}M0 ${-radius}V${radius}`} />
		<circle class="option-contact" cx=${side} cy=${-height} r="3.4" />
	</svg>`;
}
