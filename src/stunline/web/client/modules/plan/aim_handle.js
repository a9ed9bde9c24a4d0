// @ts-check
// The handle on the line of aim, for a strike that is aimed directly: dragged, or turned by keys.

import { html } from '../../lib/view.js';
import { cueBall } from '../equipment.js';
import { ballsDrawn } from '../live.js';
import { aim } from '../panel/settled.js';
import { documentNow, hidden, words } from '../state.js';
import { setAim } from './moves.js';
import { holdView, placeUnder, scale } from './view.js';

const REACH = 150; // from the white to the handle [px]
const RING = 7; // [px]
const HALO = 22; // [px]
const STEP = 0.05; // of an arrow key [°]
const LONG_STEP = 0.5; // with shift [°]

let gesture = '';

export function AimHandle() {
	const white = ballsDrawn.value[cueBall.value];
	if (!white || typeof documentNow.value?.strike?.aim !== 'number' || hidden.value) return null;
	const radians = (aim.value * Math.PI) / 180;
	const along = REACH / scale.value;
	const [x, y] = [
		white.at[0] + along * Math.cos(radians),
		-white.at[1] - along * Math.sin(radians),
	];
	return html`<g class="aim-handle" transform=${`translate(${x} ${y}) scale(${1 / scale.value})`}
		role="slider" tabindex="0" aria-label="Aim" aria-valuemin="-360" aria-valuemax="360"
		aria-valuenow=${aim.value.toFixed(2)} aria-valuetext=${`${aim.value.toFixed(2)} degrees anticlockwise from left to right`}
		onPointerDown=${grasp} onPointerMove=${turn} onPointerUp=${release} onPointerCancel=${release} onKeyDown=${keys}>
		<circle class="aim-halo" r=${HALO} /><circle class="aim-ring" r=${RING} />
	</g>`;
}

/** @param {PointerEvent} event */
function grasp(event) {
	if (event.button !== 0) return;
	event.stopPropagation();
	/** @type {Element} */ (event.currentTarget).setPointerCapture(event.pointerId);
	gesture = `aim ${event.timeStamp}`;
	words.value = false;
	holdView();
}

/** @param {PointerEvent} event */
function turn(event) {
	const picture = /** @type {SVGElement} */ (event.currentTarget).ownerSVGElement;
	const white = ballsDrawn.value[cueBall.value]?.at;
	if (!gesture || !picture || !white) return;
	event.stopPropagation();
	const [x, y] = placeUnder(picture, event.clientX, event.clientY);
	setAim((Math.atan2(y - white[1], x - white[0]) * 180) / Math.PI, gesture);
}

function release() {
	if (gesture) words.value = true;
	gesture = '';
}

/** @param {KeyboardEvent} event */
function keys(event) {
	const way = { ArrowUp: 1, ArrowLeft: 1, ArrowDown: -1, ArrowRight: -1 }[event.key];
	if (!way) return;
	event.preventDefault();
	event.stopPropagation();
	setAim(aim.value + way * (event.shiftKey ? LONG_STEP : STEP), 'turn by keys');
}
