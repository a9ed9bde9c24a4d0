// @ts-check
// What may be done to the strike; each is one step of undo.

import { tableNow } from '../equipment.js';
import { lengthUnit } from '../lengths.js';
import { change, documentNow } from '../state.js';

const USUAL_MISCUE = 13.125; // half the radius of a snooker ball, while the table isn't known [mm]
const LONGEST_STRIKE = 15; // as position files allow [m/s]
const SLOWEST = 0.02; // as position files allow [m/s]

/** @typedef {{ safe: number, miscue: number, tip_radius: number }} Limits of the contact point [mm] */

/** @returns {Limits} */
export function limits() {
	const known = /** @type {any} */ (tableNow.value)?.strike;
	return known ?? { safe: 11, miscue: USUAL_MISCUE, tip_radius: 9 };
}

/** The radius of the ball that is struck. [mm] */
export function cueBallRadius() {
	const table = tableNow.value;
	return table?.balls.find((ball) => ball.name === table.cue_ball)?.radius ?? 26.25;
}

/** @param {string} label @param {(strike: Record<string, any>) => void} edit @param {string} [gesture] */
function edit(label, edit, gesture = '') {
	change(label, (position) => edit((position.strike ??= {})), gesture);
}

/**
 * Puts the contact point there; the limit of a miscue is a wall.
 * @param {number} side @param {number} height [mm]
 * @param {string} [gesture]
 */
export function setContact(side, height, gesture = '') {
	const [x, y] = held(side, height);
	edit(
		'move the contact point',
		(strike) => {
			const moved = strike.height !== y;
			if (strike.side !== x || strike.side === undefined) setSideOf(strike, x);
			if (!moved) return;
			delete strike.arrive;
			strike.height = y;
		},
		gesture,
	);
}

/** @param {Record<string, any>} strike @param {number} side */
function setSideOf(strike, side) {
	if (side === 0) delete strike.side;
	else strike.side = side;
}

/**
 * The nearest contact point that doesn't slip, as fine as lengths are typed.
 * @param {number} side @param {number} height [mm] @returns {[number, number]}
 */
export function held(side, height) {
	const most = limits().miscue;
	const away = Math.hypot(side, height);
	const by = away > most ? most / away : 1;
	// Cut towards the centre: a point rounded outwards would be past the limit.
	const parts = Math.round(1 / lengthUnit.value.grain);
	const cut = (/** @type {number} */ one) =>
		(by < 1 ? Math.trunc(one * by * parts) : Math.round(one * parts)) / parts;
	return [cut(side) + 0, cut(height) + 0];
}

/** The arrival decides the height. @param {'stun' | 'rolling' | number} arrive @param {string} [gesture] */
export function setArrival(arrive, gesture = '') {
	const words = typeof arrive === 'number' ? 'a follow ratio' : arrive;
	edit(
		`arrive with ${words}`,
		(strike) => {
			delete strike.height;
			strike.arrive = arrive;
		},
		gesture,
	);
}

/** @param {'max follow' | 'max screw'} name */
export function setNamedHeight(name) {
	edit(`strike with ${name}`, (strike) => {
		delete strike.arrive;
		strike.height = name;
	});
}

/** The middle of the ball: no height, no side. */
export function setCentre() {
	edit('strike the centre', (strike) => {
		delete strike.arrive;
		delete strike.side;
		strike.height = 0;
	});
}

/** @param {number} pace [m/s] @param {string} [gesture] */
export function setPace(pace, gesture = '') {
	const kept = Math.min(Math.max(pace, SLOWEST), LONGEST_STRIKE);
	edit('set the pace', (strike) => (strike.pace = Number(kept.toFixed(3))), gesture);
}

/** @param {number} lengths of the table */
export function setLengths(lengths) {
	edit('set the pace', (strike) => (strike.pace = `${Number(lengths.toFixed(2))} lengths`));
}

/** The object ball just drops. */
export function setPocketWeight() {
	edit('play it at pocket weight', (strike) => (strike.pace = 'pocket weight'));
}

/** @param {number} degrees */
export function setElevation(degrees) {
	edit('raise the cue', (strike) => {
		if (degrees === 0) delete strike.elevation;
		else strike.elevation = Number(degrees.toFixed(1));
	});
}

/** Takes over the keys of another strike, as of a pinned one. @param {Record<string, any>} keys */
export function takeStrike(keys) {
	edit('take the pinned strike', (strike) => {
		if ('height' in keys) delete strike.arrive;
		if ('arrive' in keys) delete strike.height;
		if (!('side' in keys)) delete strike.side;
		Object.assign(strike, keys);
	});
}

/** @typedef {'pot' | 'contact' | 'aim'} AimBy */

/** How the strike is aimed now. @returns {AimBy} */
export function aimedBy() {
	const strike = documentNow.value?.strike ?? {};
	return strike.pot ? 'pot' : strike.contact ? 'contact' : 'aim';
}

/** @param {Record<string, any>} aim exactly one of pot, contact, aim */
export function setAimBy(aim) {
	edit('aim otherwise', (strike) => {
		for (const key of ['pot', 'contact', 'aim']) delete strike[key];
		Object.assign(strike, aim);
		if (!aim.pot && strike.pace === 'pocket weight') strike.pace = 1.5;
	});
}
