// @ts-check
// What may be done to the goal; each is one step of undo. It stands in the position's file.

import { computed } from '../../lib/view.js';
import { tableNow } from '../equipment.js';
import { lengthUnit } from '../lengths.js';
import { wordsOf } from '../plan/moves.js';
import { change, documentNow } from '../state.js';

/** @typedef {import('../state.js').Point} Point */
/** @typedef {'pot' | 'meet' | 'through' | 'rest' | 'next' | 'touch' | 'miss' | 'cushions'} Demand */

const USUAL_RADIUS = 150; // of a resting place [mm]
const USUAL_CUT = [0, 40]; // [°]
const USUAL_CUSHIONS = [0, 2];
const DEMANDS = ['pot', 'meet', 'through', 'rest', 'next', 'touch', 'miss', 'cushions'];

/** The goal of the position; empty while it has none. */
export const goalNow = computed(
	() => /** @type {Record<string, any>} */ (documentNow.value?.goal ?? {}),
);
/** Whether it asks for anything. */
export const hasGoal = computed(
	() => 'in_off' in goalNow.value || DEMANDS.some((one) => one in goalNow.value),
);

/** @param {string} label @param {(goal: Record<string, any>) => void} edit @param {string} [gesture] */
function edit(label, edit, gesture = '') {
	change(
		label,
		(position) => {
			position.goal ??= { in_off: false }; // what every goal means, unless it is taken out
			edit(position.goal);
		},
		gesture,
	);
}

/** Takes a demand out; a goal without any is none. @param {Demand | 'in_off'} key */
export function removeDemand(key) {
	change('take a demand out of the goal', (position) => {
		delete position.goal?.[key];
		const left = Object.keys(position.goal ?? {});
		const some = DEMANDS.some((one) => left.includes(one));
		if (!some && (key !== 'in_off' || !left.includes('in_off'))) delete position.goal;
	});
}

/** @param {string} ball */
export function setMeet(ball) {
	edit(`have the white meet ${wordsOf(ball)}`, (goal) => {
		goal.meet = { ...goal.meet, ball };
	});
}

/** @param {string} side "left", "right", or "" for either */
export function setMeetSide(side) {
	edit('choose the side that is met', (goal) => {
		const { on: _on, ...meet } = goal.meet;
		goal.meet = side ? { ...meet, on: side } : meet;
	});
}

/** @param {string} one @param {string} other balls or spots */
export function setThrough(one, other) {
	edit('have the white pass a gap', (goal) => {
		goal.through = { between: [one, other] };
	});
}

/** @param {number} value @param {number} least @param {number} most */
const within = (value, least, most) => Math.min(Math.max(value, least), most);

/**
 * @param {Point} centre @param {number | null} radius null: as it was [mm]
 * @param {string} [gesture]
 */
export function setCircle([x, y], radius, gesture = '') {
	const table = tableNow.value;
	const parts = Math.round(1 / lengthUnit.value.grain);
	const rounded = (/** @type {number} */ one) => Math.round(one * parts) / parts;
	edit(
		'choose where the white rests',
		(goal) => {
			const before = Array.isArray(goal.rest?.circle) ? goal.rest.circle[2] : USUAL_RADIUS;
			const at = table ? [within(x, 0, table.width), within(y, 0, table.length)] : [x, y];
			goal.rest = { circle: [...at, radius ?? before].map(rounded) };
		},
		gesture,
	);
}

/** @param {string} name "D", or the area behind the line */
export function setArea(name) {
	edit('choose where the white rests', (goal) => {
		goal.rest = name;
	});
}

/** @param {string} ball a name or "any red" */
export function setNext(ball) {
	edit('choose the next ball', (goal) => {
		goal.next = { cut: USUAL_CUT, ...goal.next, ball };
	});
}

/** @param {number} least @param {number} most [°] */
export function setNextCut(least, most) {
	edit('choose the next cut', (goal) => {
		goal.next = { ...goal.next, cut: [least, most] };
	});
}

/** Puts a ball among those, or takes it out. @param {'touch' | 'miss'} key @param {string} ball */
export function toggle(key, ball) {
	const listed = /** @type {string[]} */ (goalNow.value[key] ?? []);
	const left = listed.includes(ball) ? listed.filter((one) => one !== ball) : [...listed, ball];
	if (left.length === 0) removeDemand(key);
	else {
		edit(`have the white ${key} ${wordsOf(ball)}`, (goal) => {
			goal[key] = left;
		});
	}
}

/** @param {number[]} span least and most */
export function setCushions(span = USUAL_CUSHIONS) {
	edit('choose the cushions', (goal) => {
		goal.cushions = span;
	});
}

/** The white must not go in. */
export function forbidInOff() {
	edit('forbid in-offs', (goal) => {
		goal.in_off = false;
	});
}

/** @param {string} player */
export function setPlayer(player) {
	edit('choose the player', (goal) => {
		goal.player = player;
	});
}

/** How far the search may go. @param {Record<string, number[]>} vary nothing: the usual ranges */
export function setVary(vary) {
	edit('choose what may vary', (goal) => {
		if (Object.keys(vary).length) goal.vary = vary;
		else delete goal.vary;
	});
}
