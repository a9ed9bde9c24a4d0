// @ts-check
// What may be done to the balls: move, snap, add, remove, rack, mirror, pot.

import { cueBall, tableNow } from '../equipment.js';
import { lengthUnit } from '../lengths.js';
import { ballsDrawn } from '../live.js';
import { change, documentNow, selection } from '../state.js';
import { ballContact, distance, isFree, nearestFree, noseContact, onCircle } from './geometry.js';
import { scale, view } from './view.js';

/**
 * @typedef {import('../state.js').Point} Point
 * @typedef {import('../state.js').PositionDocument} PositionDocument
 */

const SNAP = 7; // a ball comes to a spot, a ball or a cushion from so far away [px]

/** @param {string} name */
export const radiusOf = (name) =>
	tableNow.value?.balls.find((ball) => ball.name === name)?.radius ??
	ballsDrawn.value[name]?.radius ??
	26.25;

/** Where a ball's centre may be; null while the table isn't known. @param {string} name */
export function boundsOf(name) {
	const table = tableNow.value;
	if (!table) return null;
	const least = noseContact(radiusOf(name), table.nose_height);
	return { left: least, bottom: least, right: table.width - least, top: table.length - least };
}

/** @param {string} name */
function circlesAround(name) {
	return Object.entries(ballsDrawn.value)
		.filter(([other]) => other !== name)
		.map(([, ball]) => ({ at: ball.at, radius: ballContact(radiusOf(name), ball.radius) }));
}

/**
 * Where the ball goes when the hand wants it there: it slides along others and cushions.
 * @param {string} name @param {Point} wanted @param {boolean} snapping
 * @param {boolean} [exact] a typed place is taken as it was typed, whatever the scale
 * @returns {Point | null}
 */
export function placeFor(name, wanted, snapping, exact = false) {
	const circles = circlesAround(name);
	const bounds = boundsOf(name);
	const snapped = snapping ? snappedTo(wanted, circles, bounds) : null;
	const grain = exact ? lengthUnit.value.grain : scale.value < 1 ? 1 : 0.1;
	const rounded = snapped ?? roundedPlace(wanted, grain);
	const found = nearestFree(rounded, circles, bounds);
	return found && roundedPlace(found, 0.001);
}

/**
 * The ball that one typed there would lie on, and the nearest place that is free; null: none, but
 * for a rounding.
 * @param {string} name @param {Point} wanted
 * @returns {{ other: string, free: Point | null } | null}
 */
export function coveredAt(name, wanted) {
	const most = 2 * lengthUnit.value.grain; // both numbers of a place are rounded
	for (const [other, ball] of Object.entries(ballsDrawn.value)) {
		if (other === name) continue;
		const depth = ballContact(radiusOf(name), ball.radius) - distance(ball.at, wanted);
		if (depth > most) return { other, free: placeFor(name, wanted, false, true) };
	}
	return null;
}

/** Moves a ball until it touches the one nearest to it. @param {string} name */
export function touchNearest(name) {
	const at = ballsDrawn.value[name]?.at;
	if (!at) return;
	const circles = circlesAround(name);
	const gap = (/** @type {import('./geometry.js').Circle} */ one) =>
		distance(one.at, at) - one.radius;
	const nearest = circles.toSorted((one, two) => gap(one) - gap(two))[0];
	const place = nearest && nearestFree(onCircle(at, nearest), circles, boundsOf(name));
	if (place) moveBall(name, roundedPlace(place, 0.001));
}

/** Moves a ball straight to the cushion nearest to it. @param {string} name */
export function touchCushion(name) {
	const at = ballsDrawn.value[name]?.at;
	const bounds = boundsOf(name);
	if (!at || !bounds) return;
	const [x, y] = at;
	/** @type {Point[]} */
	const feet = [
		[bounds.left, y],
		[bounds.right, y],
		[x, bounds.bottom],
		[x, bounds.top],
	];
	const nearest = feet.toSorted((one, two) => distance(one, at) - distance(two, at))[0];
	const place = nearest && nearestFree(nearest, circlesAround(name), bounds);
	if (place) moveBall(name, roundedPlace(place, 0.001));
}

/**
 * @param {Point} wanted
 * @param {import('./geometry.js').Circle[]} circles
 * @param {import('./geometry.js').Bounds | null} bounds
 * @returns {Point | null}
 */
function snappedTo(wanted, circles, bounds) {
	const reach = SNAP / scale.value;
	for (const spot of Object.values(tableNow.value?.spots ?? {})) {
		if (distance(spot, wanted) <= reach && isFree(spot, circles, bounds)) return spot;
	}
	for (const circle of circles) {
		const away = distance(circle.at, wanted) - circle.radius;
		if (away > 0 && away <= reach) return onCircle(wanted, circle);
	}
	if (!bounds) return null;
	let [x, y] = wanted;
	if (Math.abs(x - bounds.left) <= reach) x = bounds.left;
	if (Math.abs(x - bounds.right) <= reach) x = bounds.right;
	if (Math.abs(y - bounds.bottom) <= reach) y = bounds.bottom;
	if (Math.abs(y - bounds.top) <= reach) y = bounds.top;
	return x === wanted[0] && y === wanted[1] ? null : [x, y];
}

/** @param {Point} place @param {number} step [mm] @returns {Point} */
function roundedPlace([x, y], step) {
	const digits = step >= 1 ? 0 : step >= 0.1 ? 1 : 3;
	return [Number(x.toFixed(digits)), Number(y.toFixed(digits))];
}

/**
 * Puts a ball to a place, in the document.
 * @param {string} name @param {Point | string} place or a spot's name @param {string} [gesture]
 */
export function moveBall(name, place, gesture = '') {
	change(`move ${wordsOf(name)}`, (position) => setPlace(position, name, place), gesture);
}

/** @param {PositionDocument} position @param {string} name @param {Point | string} place */
function setPlace(position, name, place) {
	const balls = position.balls;
	const listed = /^red(\d+)$/.exec(name);
	if (!(name in balls) && listed && Array.isArray(balls.reds)) {
		const index = Number(listed[1]) - 1;
		if (index < balls.reds.length) {
			balls.reds[index] = place;
			return;
		}
	}
	if (!(name in balls) && name in ballsDrawn.value) placeSingly(balls);
	balls[name] = place;
}

/**
 * Balls placed together, as a rack or a list, each get a place of their own.
 * @param {Record<string, any>} balls
 */
function placeSingly(balls) {
	const together = Object.keys(ballsDrawn.value).filter((name) => !(name in balls));
	for (const key of Object.keys(balls)) if (!(key in ballsDrawn.value)) delete balls[key];
	for (const name of together) {
		const at = ballsDrawn.value[name]?.at;
		if (at) balls[name] = roundedPlace(at, 0.001);
	}
}

/** Moves a ball by keys: as far as it can go. @param {string} name @param {number} dx @param {number} dy */
export function nudge(name, dx, dy) {
	const at = placeInDocument(name) ?? ballsDrawn.value[name]?.at;
	if (!at) return;
	const wanted = /** @type {Point} */ ([at[0] + dx, at[1] + dy]);
	const place = nearestFree(wanted, circlesAround(name), boundsOf(name));
	if (place) moveBall(name, roundedPlace(place, 0.001), `nudge ${name}`);
}

/** The newest place, which the drawing may not show yet. @param {string} name @returns {Point | null} */
export function placeInDocument(name) {
	const place = documentNow.value?.balls?.[name];
	if (!Array.isArray(place) || !place.every((one) => typeof one === 'number')) return null;
	return /** @type {Point} */ (place);
}

/** Balls of the set that stand nowhere yet. */
export function ballsLeft() {
	return (tableNow.value?.balls ?? []).filter((ball) => !(ball.name in ballsDrawn.value));
}

/** Adds a ball: on its own spot if that is free, else in the middle of what is seen. @param {string} name */
export function addBall(name) {
	const table = tableNow.value;
	const seen = view.value;
	const own = table?.spots[table.balls.find((ball) => ball.name === name)?.spot ?? ''];
	const circles = circlesAround(name);
	const bounds = boundsOf(name);
	const middle = /** @type {Point} */ (
		seen ? [(seen[0] + seen[2]) / 2, (seen[1] + seen[3]) / 2] : [500, 500]
	);
	const wanted = own && isFree(own, circles, bounds) ? own : middle;
	const place = nearestFree(wanted, circles, bounds);
	if (!place) return;
	change(`add ${wordsOf(name)}`, (position) => {
		position.balls[name] = roundedPlace(place, 0.001);
	});
	selection.value = name;
}

/** Takes a ball off the table; the one that is struck stays. @param {string} name */
export function removeBall(name) {
	if (name === cueBall.value) return;
	change(`remove ${wordsOf(name)}`, (position) => {
		if (!(name in position.balls)) placeSingly(position.balls);
		delete position.balls[name];
	});
	selection.value = cueBall.value;
}

/**
 * Sets up a rack: its balls leave the places they had.
 * @param {string} rack @param {string[]} members
 */
export function placeRack(rack, members) {
	change(`set up the ${rack}`, (position) => {
		const balls = position.balls;
		if (Object.keys(balls).some((key) => !(key in ballsDrawn.value))) placeSingly(balls);
		for (const name of members) delete balls[name];
		balls[groupOf(members)] = rack;
	});
}

/** The key that a position file places a rack under: reds, or the whole rack. @param {string[]} members */
function groupOf(members) {
	const groups = tableNow.value?.names.groups ?? [];
	const reds = members.every((name) => name.startsWith('red'));
	return (reds ? groups.find((one) => one === 'reds') : null) ?? groups.at(-1) ?? 'rack';
}

/** Everything from left to right: balls, side, contact and pocket. */
export function mirror() {
	const table = tableNow.value;
	if (!table) return;
	change('mirror the position', (position) => {
		placeSingly(position.balls);
		for (const name of Object.keys(ballsDrawn.value)) {
			const at = ballsDrawn.value[name]?.at;
			if (at) position.balls[name] = roundedPlace([table.width - at[0], at[1]], 0.001);
		}
		mirrorStrike(position.strike ?? {});
	});
}

/** @param {Record<string, any>} strike */
function mirrorStrike(strike) {
	if (typeof strike.side === 'number' && strike.side !== 0) strike.side = -strike.side;
	if (typeof strike.aim === 'number') strike.aim = (540 - strike.aim) % 360 || 0;
	if (strike.pot) strike.pot.pocket = otherSide(strike.pot.pocket);
	if (strike.contact?.on) strike.contact.on = otherSide(strike.contact.on);
}

/** @param {string} words @returns {string} */
const otherSide = (words) =>
	words.replace(/\b(left|right)\b/, (side) => (side === 'left' ? 'right' : 'left'));

/** Pots that ball, into the pocket asked for or the one with the least cut. @param {string} ball */
export function potBall(ball) {
	if (ball === cueBall.value) return;
	change(`pot ${wordsOf(ball)}`, (position) => {
		const strike = position.strike;
		const pocket = easiestPocket(ball) ?? strike.pot?.pocket;
		if (!pocket) return;
		delete strike.contact;
		delete strike.aim;
		strike.pot = { ball, pocket };
	});
	selection.value = ball;
}

/** Pots the object ball there. @param {string} pocket */
export function potInto(pocket) {
	change(`pot into ${pocket}`, (position) => {
		const strike = position.strike;
		const ball = strike.pot?.ball ?? strike.contact?.ball ?? nearestBall();
		if (!ball) return;
		delete strike.contact;
		delete strike.aim;
		strike.pot = { ball, pocket };
	});
}

/** @param {string} ball @returns {string | null} */
function easiestPocket(ball) {
	const white = ballsDrawn.value[cueBall.value]?.at;
	const at = ballsDrawn.value[ball]?.at;
	if (!white || !at) return null;
	let best = null;
	let least = Infinity;
	for (const pocket of tableNow.value?.pockets ?? []) {
		const cut = turn(
			[at[0] - white[0], at[1] - white[1]],
			[pocket.at[0] - at[0], pocket.at[1] - at[1]],
		);
		if (cut < least) [best, least] = [pocket.name, cut];
	}
	return best;
}

/** The angle between two directions. @param {Point} one @param {Point} two */
const turn = (one, two) =>
	Math.abs(Math.atan2(one[0] * two[1] - one[1] * two[0], one[0] * two[0] + one[1] * two[1]));

function nearestBall() {
	const white = ballsDrawn.value[cueBall.value]?.at;
	const others = Object.entries(ballsDrawn.value).filter(([name]) => name !== cueBall.value);
	if (!white) return null;
	others.sort(([, one], [, two]) => distance(one.at, white) - distance(two.at, white));
	return others[0]?.[0] ?? null;
}

/** Turns the aim, when the strike is aimed directly. @param {number} degrees @param {string} gesture */
export function setAim(degrees, gesture = '') {
	change(
		'turn the aim',
		(position) => {
			const strike = position.strike;
			delete strike.pot;
			delete strike.contact;
			strike.aim = Number(degrees.toFixed(3));
			if (typeof strike.pace === 'string' && strike.pace.includes('weight')) strike.pace = 1.5;
		},
		gesture,
	);
}

/** "red7" as "the red 7". @param {string} name */
export const wordsOf = (name) => `the ${name.replace(/(\D)(\d+)$/, '$1 $2').replace('-', ' ')}`;
