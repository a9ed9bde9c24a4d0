// @ts-check
// Moves the marks of balls in the server's drawing, without waiting for the server.

import { ballsDrawn } from '../live.js';

/** @typedef {import('../state.js').Point} Point */

const PARTS = ['plan-ball-', 'plan-plate-', 'plan-letter-'];

/** Balls whose marks are away from where the server drew them. @type {Set<string>} */
let moved = new Set();

/**
 * Shows balls at places of their own; all others where the server drew them.
 * @param {Record<string, Point | null>} places null: the ball is gone
 */
export function showBallsAt(places) {
	const before = moved;
	moved = new Set(Object.keys(places));
	for (const name of before) if (!moved.has(name)) clear(name);
	for (const [name, place] of Object.entries(places)) {
		const drawn = ballsDrawn.value[name];
		if (!drawn) continue;
		for (const mark of marksOf(name)) {
			if (place === null) mark.setAttribute('visibility', 'hidden');
			else {
				mark.removeAttribute('visibility');
				const [dx, dy] = [place[0] - drawn.at[0], drawn.at[1] - place[1]];
				mark.setAttribute('transform', `translate(${dx.toFixed(3)} ${dy.toFixed(3)})`);
			}
		}
	}
}

/** @param {string} name */
function clear(name) {
	for (const mark of marksOf(name)) {
		mark.removeAttribute('transform');
		mark.removeAttribute('visibility');
	}
}

/** @param {string} name */
function marksOf(name) {
	const marks = PARTS.map((part) => document.getElementById(part + name));
	marks.push(document.getElementById(`plan-ball-${name}-hatch`));
	return marks.filter((mark) => mark !== null);
}
