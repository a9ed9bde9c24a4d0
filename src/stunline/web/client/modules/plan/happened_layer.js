// @ts-check
// A stroke that was really played, on the plan: the ways it is likely to have gone, a cross where
// the white was seen, and while one is being told, taps on the plan.

import { html, useLayoutEffect, useRef } from '../../lib/view.js';
import { happenedNow, isShown, layer, tapping, tellPlace } from '../maps/happened.js';
import { hidden } from '../state.js';
import { parsed } from './layers.js';
import { placeUnder, scale, view } from './view.js';

const ARM = 9; // of a cross [px]

/** @typedef {import('../maps/happened.js').Place} Place */

export function HappenedLayer() {
	const group = useRef(/** @type {SVGGElement | null} */ (null));
	useLayoutEffect(() => {
		group.current?.replaceChildren(...(layer.value ? [parsed(layer.value)] : []));
	}, [layer.value, hidden.value]);
	if (hidden.value) return null;
	return html`<g class="happened-layer" ref=${group} aria-hidden="true"></g>`;
}

export function HappenedMarks() {
	if (!isShown.value || hidden.value) return null;
	const { white_rest: rest, white_passed: passed } = happenedNow.value;
	return html`<g class="happened-marks">
		${Array.isArray(rest) && html`<${Cross} at=${rest} words="the white was seen at rest here" />`}
		${Array.isArray(passed) && html`<${Cross} at=${passed} words="the white was seen passing here" />`}
	</g>`;
}

/** @param {{ at: [number, number], words: string }} props */
function Cross({ at: [x, y], words }) {
	const arm = ARM / scale.value;
	return html`<path role="img" aria-label=${words}
		d=${`M${x - arm} ${-y}H${x + arm}M${x} ${-y - arm}V${-y + arm}`} />`;
}

/** Over everything while a place is being told. */
export function HappenedTap() {
	const seen = view.value;
	const key = tapping.value;
	if (!key || !seen) return null;
	const [left, bottom, right, top] = seen;
	const held = (/** @type {PointerEvent} */ event) => event.stopPropagation();
	const up = (/** @type {PointerEvent} */ event) => {
		event.stopPropagation();
		const sheet = /** @type {SVGGraphicsElement} */ (event.currentTarget);
		tellPlace(key, placeUnder(sheet, event.clientX, event.clientY));
	};
	return html`<g class="happened-tap"><rect x=${left} y=${-top} width=${right - left} height=${top - bottom}
		onPointerDown=${held} onPointerUp=${up} /></g>`;
}
