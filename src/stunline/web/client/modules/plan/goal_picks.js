// @ts-check
// While a goal is being set by pointing, the plan's clicks are for it: a sheet over the plan that
// finds the ball or spot that is meant, with a target for each for the keyboard.

import { html, signal } from '../../lib/view.js';
import { setCircle } from '../goal/edits.js';
import { pick, picking, stopPicking, targets } from '../goal/picking.js';
import { wordsOf } from './moves.js';
import { placeUnder, scale, view } from './view.js';

/** @typedef {import('../state.js').Point} Point */
/** @typedef {import('../goal/picking.js').Target} Target */

const HALO = 22; // least radius of what a pointer can mean [px]
const RING = 4; // of the ring round what is pointed at, beyond it [px]
const DRAGGED = 6; // a press that goes further sets the radius [px]

/** The target that is pointed at. */
const near = signal(/** @type {string | null} */ (null));
/** @type {{ centre: Point, gesture: string } | null} */
let drag = null;

export function GoalPicks() {
	const seen = view.value;
	if (!picking.value || !seen) return null;
	const [left, bottom, right, top] = seen;
	const isArea = picking.value.what === 'rest';
	const hands = isArea
		? {
				onPointerDown: downArea,
				onPointerMove: moveArea,
				onPointerUp: upArea,
				onPointerCancel: upArea,
			}
		: {
				onPointerDown: held,
				onPointerMove: point,
				onPointerUp: choose,
				onPointerLeave: () => (near.value = null),
			};
	return html`<g class="goal-picks">
		<rect x=${left} y=${-top} width=${right - left} height=${top - bottom} data-near=${near.value ? '' : undefined} ...${hands} />
		${targets.value.map(TargetMark)}
	</g>`;
}

/** @param {Target} target */
function TargetMark({ name, at, radius, isSpot }) {
	const keys = (/** @type {KeyboardEvent} */ event) => {
		if (event.key !== 'Enter' && event.key !== ' ') return;
		event.preventDefault();
		event.stopPropagation();
		pick(name);
	};
	return html`<circle key=${name} class="goal-target" cx=${at[0]} cy=${-at[1]} r=${radius + RING / scale.value}
		role="button" tabindex="0" data-pick=${name} data-near=${near.value === name ? '' : undefined}
		aria-label=${`pick ${wordsOf(name)}${isSpot ? ' spot' : ''}`} onKeyDown=${keys} />`;
}

/** @param {PointerEvent} event @returns {Point} */
const placeOf = (event) =>
	placeUnder(/** @type {SVGGraphicsElement} */ (event.currentTarget), event.clientX, event.clientY);

/** The nearest target that can be meant. @param {PointerEvent} event */
function meant(event) {
	const [x, y] = placeOf(event);
	const away = (/** @type {Target} */ one) => Math.hypot(one.at[0] - x, one.at[1] - y);
	const best = targets.value.toSorted((one, other) => away(one) - away(other))[0];
	return best && away(best) <= Math.max(best.radius, HALO / scale.value) ? best.name : null;
}

/** The press is not for the balls below. @param {PointerEvent} event */
function held(event) {
	event.stopPropagation();
}

/** @param {PointerEvent} event */
function point(event) {
	event.stopPropagation();
	near.value = meant(event);
}

/** @param {PointerEvent} event */
function choose(event) {
	event.stopPropagation();
	const name = meant(event);
	near.value = null;
	if (name) pick(name);
}

/** @param {PointerEvent} event */
function downArea(event) {
	event.stopPropagation();
	if (event.button !== 0) return;
	/** @type {Element} */ (event.currentTarget).setPointerCapture(event.pointerId);
	const [x, y] = placeOf(event);
	drag = { centre: [Math.round(x), Math.round(y)], gesture: `area ${event.timeStamp}` };
	setCircle(drag.centre, null, drag.gesture);
}

/** @param {PointerEvent} event */
function moveArea(event) {
	event.stopPropagation();
	if (!drag) return;
	const [x, y] = placeOf(event);
	const radius = Math.hypot(x - drag.centre[0], y - drag.centre[1]);
	if (radius * scale.value > DRAGGED) setCircle(drag.centre, Math.round(radius), drag.gesture);
}

/** @param {PointerEvent} event */
function upArea(event) {
	event.stopPropagation();
	if (!drag) return;
	drag = null;
	stopPicking();
}
