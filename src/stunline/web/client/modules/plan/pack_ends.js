// @ts-check
// Where the white ended in the plays of many racks: a dot each.

import { html } from '../../lib/view.js';
import { packEnds } from '../panel/pack_inside.js';
import { hidden } from '../state.js';
import { scale } from './view.js';

const DOT = 1.6; // radius [px]

export function PackEnds() {
	const radius = DOT / scale.value;
	if (hidden.value) return null;
	return html`<g class="pack-ends" aria-hidden="true">${packEnds.value.map(
		([x, y], index) => html`<circle key=${index} cx=${x} cy=${-y} r=${radius} />`,
	)}</g>`;
}
