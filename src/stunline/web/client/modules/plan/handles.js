// @ts-check
// What the hand takes hold of on the plan: balls, pockets, the ground; and their keys.

import { effect, html, signal } from '../../lib/view.js';
import { cueBall, tableNow } from '../equipment.js';
import { lengthWords } from '../lengths.js';
import { ballsDrawn, layers } from '../live.js';
import { ballsPlayed } from '../playback.js';
import { held, selection, words } from '../state.js';
import { distance } from './geometry.js';
import { finger } from './loupe.js';
import { showBallsAt } from './marks.js';
import {
	moveBall,
	nudge,
	placeFor,
	placeInDocument,
	potBall,
	potInto,
	removeBall,
	wordsOf,
} from './moves.js';
import { frameAction, holdView, pan, placeUnder, scale, zoom, zoomGently } from './view.js';

/** @typedef {import('../state.js').Point} Point */

const HALO = 22; // least radius of what a finger can take hold of [px]
const NEAR = 5; // a mouse takes hold of a ball from so far beyond its edge [px]
const STILL = 250; // a ball held still for so long gets its words back [ms]
const MOVED = 3; // a press that stays nearer than this is a click [px]
const STEP = 1; // of an arrow key [mm]
const LONG_STEP = 10; // with shift [mm]
const WHEEL = 0.0015; // growth for each unit of the wheel
const SAME = 0.05; // of two places that are one; touching balls are moved apart by less [mm]
const KEY_ZOOM = 1.4;
/** @type {Record<string, Point>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** Where the hand has put a ball, until the server has drawn it there. */
const put = signal(/** @type {{ name: string, at: Point } | null} */ (null));
/** @type {{ pointer: number, x: number, y: number, offset: Point, gesture: string, moved: boolean } | null} */
let press = null;
/** Fingers on the ground, by their number. @type {Map<number, Point>} */
const fingers = new Map();
let gestures = 0;
let stillTimer = 0;

/** Handles over the drawing; pointers are watched on the picture as a whole. */
export function Handles() {
	const halo = HALO / scale.value;
	return html`
		<g class="handles">
			${(tableNow.value?.pockets ?? []).map((pocket) => pocketHandle(pocket, halo))}
			${Object.entries(ballsDrawn.value).map(([name, ball]) => ballHandle(name, ball, halo))}
		</g>
	`;
}

/** @param {{ name: string, at: Point }} pocket @param {number} halo */
function pocketHandle({ name, at }, halo) {
	const pot = () => potInto(name);
	return html`
		<circle key=${`pocket-${name}`} class="pocket-handle" cx=${at[0]} cy=${-at[1]} r=${Math.max(60, halo)}
			role="button" tabindex="0" aria-label=${`pot into the ${name} pocket`} data-pocket=${name}
			onClick=${pot} onKeyDown=${(/** @type {KeyboardEvent} */ event) => pressed(event, pot)} />
	`;
}

/** @param {string} name @param {import('../state.js').BallShown} ball @param {number} halo */
function ballHandle(name, ball, halo) {
	const [x, y] = name === put.value?.name ? put.value.at : ball.at;
	const radius = name === cueBall.value ? Math.max(ball.radius, halo) : ball.radius;
	const isFirst = name === (selectedNow() ?? cueBall.value);
	return html`
		<circle key=${`ball-${name}`} class="ball-handle" cx=${x} cy=${-y} r=${radius} tabindex=${isFirst ? 0 : -1}
			role="button" data-ball=${name} aria-pressed=${name === selection.value}
			aria-label=${`${wordsOf(name)}, ${lengthWords(x)} from the left, ${lengthWords(y)} up the table`}
			onFocus=${() => (selection.value = name)} onKeyDown=${ballKeys} />
	`;
}

/** The ball that is selected, while it is on the table. */
const selectedNow = () =>
	selection.value && selection.value in ballsDrawn.value ? selection.value : null;

/** To the next ball or the one before, in the set's order. @param {string} name @param {number} way */
function toBall(name, way) {
	const names = Object.keys(ballsDrawn.value);
	const next = names[(names.indexOf(name) + way + names.length) % names.length];
	if (!next) return;
	selection.value = next;
	const handle = document.querySelector(`[data-ball="${CSS.escape(next)}"]`);
	if (handle instanceof SVGElement) handle.focus();
}

/** @param {KeyboardEvent} event @param {() => void} act */
function pressed(event, act) {
	if (event.key !== 'Enter' && event.key !== ' ') return;
	event.preventDefault();
	act();
}

/** Arrows move the ball, Enter pots it, Delete takes it off, Page keys go to another. @param {KeyboardEvent} event */
function ballKeys(event) {
	const name = ballOf(event);
	const way = ARROWS[event.key];
	if (!name) return;
	if (way) {
		const step = event.shiftKey ? LONG_STEP : STEP;
		holdView();
		nudge(name, way[0] * step, way[1] * step);
	} else if (event.key === 'Enter') potBall(name);
	else if (event.key === 'PageDown') toBall(name, 1);
	else if (event.key === 'PageUp') toBall(name, -1);
	else if (event.key === 'Delete' || event.key === 'Backspace') removeBall(name);
	else return;
	event.preventDefault();
}

/** @param {Event} event */
const ballOf = (event) =>
	event.target instanceof SVGElement ? (event.target.dataset.ball ?? null) : null;

/**
 * Watches pointers, wheel and keys on the picture.
 * @param {SVGSVGElement} picture
 * @returns {() => void} stops it
 */
export function watchHand(picture) {
	const watched = /** @type {const} */ ({
		pointerdown: down,
		pointermove: move,
		pointerup: up,
		pointercancel: up,
		keydown: planKeys,
	});
	for (const [kind, act] of Object.entries(watched)) {
		picture.addEventListener(kind, /** @type {EventListener} */ (act));
	}
	picture.addEventListener('wheel', wheeled, { passive: false });
	// The server's drawing lags behind the hand: what it brings is put under the hand again.
	const stop = effect(() => {
		void layers.value;
		/** @type {Record<string, Point | null>} */
		const places = {};
		for (const [name, one] of Object.entries(ballsPlayed.value))
			places[name] = one === null ? null : one.at;
		if (put.value && isDrawnThere(put.value)) put.value = null;
		if (put.value) places[put.value.name] = put.value.at;
		showBallsAt(places);
	});
	return () => {
		stop();
		for (const [kind, act] of Object.entries(watched)) {
			picture.removeEventListener(kind, /** @type {EventListener} */ (act));
		}
		picture.removeEventListener('wheel', wheeled);
	};
}

/** Whether a ball that was let go no longer needs its own place. @param {{ name: string, at: Point }} one */
function isDrawnThere({ name, at }) {
	const drawn = ballsDrawn.value[name]?.at;
	const wanted = placeInDocument(name);
	if (held.value !== null) return false;
	const isElsewhere = wanted !== null && distance(wanted, at) > SAME; // undone meanwhile
	return !drawn || isElsewhere || distance(drawn, at) <= SAME;
}

/** @param {Event} event @returns {SVGSVGElement} */
const pictureOf = (event) => /** @type {SVGSVGElement} */ (event.currentTarget);

/** @param {PointerEvent} event */
function down(event) {
	if (event.button !== 0 || press) return; // one ball in one hand
	const picture = pictureOf(event);
	const name = ballOf(event) ?? ballNear(picture, event);
	if (name === null && isPocket(event)) return; // a click of its own
	picture.setPointerCapture(event.pointerId);
	if (name === null) {
		fingers.set(event.pointerId, [event.clientX, event.clientY]);
		return;
	}
	const under = placeUnder(picture, event.clientX, event.clientY);
	/** @type {Point} */
	const at = ballsDrawn.value[name]?.at ?? under;
	gestures += 1;
	press = {
		pointer: event.pointerId,
		x: event.clientX,
		y: event.clientY,
		offset: [at[0] - under[0], at[1] - under[1]],
		gesture: `drag ${gestures}`,
		moved: false,
	};
	selection.value = name;
	put.value = { name, at };
	held.value = name;
	magnify(event, at);
}

/** Whether it is a pocket that is pressed. @param {Event} event */
const isPocket = (event) =>
	event.target instanceof SVGElement && event.target.dataset.pocket !== undefined;

/** The nearest ball that a finger, or less far a mouse, can mean. @param {SVGSVGElement} picture @param {PointerEvent} event */
function ballNear(picture, event) {
	const [x, y] = placeUnder(picture, event.clientX, event.clientY);
	/** @type {string | null} */
	let best = null;
	let least = Infinity;
	for (const [name, ball] of Object.entries(ballsDrawn.value)) {
		const mouse = ball.radius + NEAR / scale.value;
		const reach = event.pointerType === 'mouse' ? mouse : Math.max(mouse, HALO / scale.value);
		const away = Math.hypot(ball.at[0] - x, ball.at[1] - y);
		if (away <= reach && away < least) [best, least] = [name, away];
	}
	return best;
}

/** Under a finger things are shown beside it. @param {PointerEvent} event @param {Point} at */
function magnify(event, at) {
	if (event.pointerType === 'mouse') return;
	const box = pictureOf(event).getBoundingClientRect();
	finger.value = { x: event.clientX - box.left, y: event.clientY - box.top, at, width: box.width };
}

/** @param {PointerEvent} event */
function move(event) {
	const name = held.value;
	if (fingers.has(event.pointerId)) moveGround(event);
	if (!press || name === null || event.pointerId !== press.pointer) return;
	if (!press.moved && Math.hypot(event.clientX - press.x, event.clientY - press.y) < MOVED) return;
	if (!press.moved) {
		press.moved = true;
		holdView();
	}
	words.value = false;
	clearTimeout(stillTimer);
	stillTimer = setTimeout(() => (words.value = true), STILL);
	const under = placeUnder(pictureOf(event), event.clientX, event.clientY);
	const wanted = /** @type {Point} */ ([under[0] + press.offset[0], under[1] + press.offset[1]]);
	const place = placeFor(name, wanted, !event.altKey);
	if (!place) return;
	put.value = { name, at: place };
	magnify(event, place);
	moveBall(name, place, press.gesture);
}

/** @param {PointerEvent} event */
function up(event) {
	fingers.delete(event.pointerId);
	const name = held.value;
	if (!press || event.pointerId !== press.pointer) return;
	const wasClick = !press.moved && event.type === 'pointerup';
	clearTimeout(stillTimer);
	press = null;
	finger.value = null;
	held.value = null;
	if (event.type === 'pointercancel' || wasClick) put.value = null;
	words.value = true;
	if (wasClick && name !== null && name !== cueBall.value) potBall(name);
}

/** One finger moves the ground, two make it larger or smaller. @param {PointerEvent} event */
function moveGround(event) {
	const before = fingers.get(event.pointerId);
	if (!before) return;
	const now = /** @type {Point} */ ([event.clientX, event.clientY]);
	const other = [...fingers].find(([number]) => number !== event.pointerId)?.[1];
	if (other) {
		const apart = (/** @type {Point} */ one) => Math.hypot(one[0] - other[0], one[1] - other[1]);
		const middle = placeUnder(pictureOf(event), (now[0] + other[0]) / 2, (now[1] + other[1]) / 2);
		if (apart(before) > 0) zoom(apart(now) / apart(before), middle);
	} else {
		pan((before[0] - now[0]) / scale.value, (now[1] - before[1]) / scale.value);
	}
	fingers.set(event.pointerId, now);
}

/** @param {WheelEvent} event */
function wheeled(event) {
	event.preventDefault();
	const about = placeUnder(pictureOf(event), event.clientX, event.clientY);
	zoom(Math.exp(-event.deltaY * WHEEL), about);
}

/** Plus and minus zoom, nought frames the action. @param {KeyboardEvent} event */
function planKeys(event) {
	if (event.ctrlKey || event.metaKey) return;
	if (event.key === '+' || event.key === '=') zoomGently(KEY_ZOOM);
	else if (event.key === '-') zoomGently(1 / KEY_ZOOM);
	else if (event.key === '0') frameAction();
	else return;
	event.preventDefault();
}
