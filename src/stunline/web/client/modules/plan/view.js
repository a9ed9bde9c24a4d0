// @ts-check
// Which part of the table the plan shows: zoom, pan, frame; and places under the pointer.

import { computed } from '../../lib/view.js';
import { magnified } from '../class/type_size.js';
import { tableNow } from '../equipment.js';
import { drawn } from '../live.js';
import { planSize, tableWindow } from '../state.js';

/**
 * @typedef {import('../state.js').Point} Point
 * @typedef {import('../state.js').TableWindow} TableWindow
 */

const LEAST_WINDOW = 120; // mm across; a few balls
const MOST_TABLES = 1.3; // of the table's length across: the whole table and its surroundings
const USUAL_LENGTH = 3569; // mm, of a full-size snooker table, while the table isn't known
const DURATION = 160; // of a step of zoom by key or button [ms]

/** The part of the table that is seen: what was asked for, grown to the plan's proportions. */
export const view = computed(() => {
	const wanted = tableWindow.value ?? drawn.value?.window ?? null;
	return wanted && grown(wanted, planSize.value);
});
/** Pixels of the screen for a millimetre. */
export const scale = computed(() => {
	const seen = view.value;
	return seen ? (planSize.value[0] * magnified.value) / (seen[2] - seen[0]) : 1;
});

/** @param {TableWindow} window @param {[number, number]} size @returns {TableWindow} */
function grown([left, bottom, right, top], [width, height]) {
	if (width <= 0 || height <= 0) return [left, bottom, right, top];
	const millimetre = Math.min(width / (right - left), height / (top - bottom));
	const [x, y] = [(left + right) / 2, (bottom + top) / 2];
	const [across, up] = [width / millimetre / 2, height / millimetre / 2];
	return [x - across, y - up, x + across, y + up];
}

/** A window as an SVG's viewBox, y down. @param {TableWindow} window */
export const viewBox = ([left, bottom, right, top]) =>
	`${left} ${-top} ${right - left} ${top - bottom}`;

/**
 * The place under a point of the screen.
 * @param {SVGGraphicsElement} picture @param {number} x @param {number} y @returns {Point}
 */
export function placeUnder(picture, x, y) {
	const toPicture = picture.getScreenCTM()?.inverse();
	const found = new DOMPoint(x, y).matrixTransform(toPicture);
	return [found.x, -found.y];
}

/** From now on the window stays as it is seen, whatever the shot does. */
export function holdView() {
	if (!tableWindow.value && view.value) tableWindow.value = view.value;
}

let timesFramed = 0; // a gentle zoom that was begun before is given up

/** Frames the action again. */
export function frameAction() {
	timesFramed += 1;
	tableWindow.value = null;
}

/**
 * Makes things larger by that factor, the place staying where it is on the screen.
 * @param {number} factor @param {Point} [about] the middle when left out
 */
export function zoom(factor, about) {
	const seen = view.value;
	if (!seen) return;
	const [left, bottom, right, top] = seen;
	const most = MOST_TABLES * (tableNow.value?.length ?? USUAL_LENGTH);
	const across = Math.min(Math.max((right - left) / factor, LEAST_WINDOW), most);
	const by = across / (right - left);
	const [x, y] = about ?? [(left + right) / 2, (bottom + top) / 2];
	tableWindow.value = [
		x + by * (left - x),
		y + by * (bottom - y),
		x + by * (right - x),
		y + by * (top - y),
	];
}

/**
 * Zooms in small steps, at once where motion is reduced.
 * @param {number} factor
 */
export function zoomGently(factor) {
	if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
		zoom(factor);
		return;
	}
	const began = performance.now();
	const begunIn = timesFramed;
	let before = 0;
	const step = (/** @type {number} */ now) => {
		if (timesFramed !== begunIn) return;
		const done = Math.min(Math.max((now - began) / DURATION, 0), 1);
		zoom(factor ** (done - before));
		before = done;
		if (done < 1) requestAnimationFrame(step);
	};
	requestAnimationFrame(step);
}

/** Moves what is seen by millimetres. @param {number} dx @param {number} dy */
export function pan(dx, dy) {
	const seen = view.value;
	if (!seen) return;
	const [left, bottom, right, top] = seen;
	tableWindow.value = [left + dx, bottom + dy, right + dx, top + dy];
}

/** Puts a place into the middle. @param {Point} place */
export function centreOn([x, y]) {
	const seen = view.value;
	if (seen) pan(x - (seen[0] + seen[2]) / 2, y - (seen[1] + seen[3]) / 2);
}
