// @ts-check
// Setting a goal by pointing at the plan: what is being picked, and what a pick does.

import { computed, signal } from '../../lib/view.js';
import { cueBall, tableNow } from '../equipment.js';
import { ballsDrawn } from '../live.js';
import { setMeet, setNext, setThrough, toggle } from './edits.js';

/**
 * @typedef {'meet' | 'through' | 'rest' | 'next' | 'touch' | 'miss'} What
 * @typedef {{ name: string, at: import('../state.js').Point, radius: number, isSpot: boolean }} Target
 */

/** What the next click on the plan is for; null: for the shot, as always. */
export const picking = signal(/** @type {{ what: What, first: string | null } | null} */ (null));

/** @type {Record<What, string>} */
const WORDS = {
	meet: 'Click the ball that the white is to meet.',
	through: 'Click the two balls or spots that the white is to pass between.',
	rest: 'Click where the white is to rest; drag for how near.',
	next: 'Click the ball that is to be potted next.',
	touch: 'Click the balls that the white must touch.',
	miss: 'Click the balls that the white must miss.',
};
/** What is to be done, in a sentence; "" when nothing is being picked. */
export const pickingWords = computed(() => {
	const now = picking.value;
	if (!now) return '';
	return now.first ? 'Click the other one.' : WORDS[now.what];
});

/** @param {What} what */
export function startPicking(what) {
	picking.value = { what, first: null };
}

export function stopPicking() {
	picking.value = null;
}

/** What can be picked: balls, and for a gap spots on which none stands. */
export const targets = computed(() => {
	const now = picking.value;
	if (!now || now.what === 'rest') return [];
	/** @type {Target[]} */
	const found = Object.entries(ballsDrawn.value)
		.filter(([name]) => name !== cueBall.value)
		.map(([name, ball]) => ({ name, at: ball.at, radius: ball.radius, isSpot: false }));
	if (now.what === 'through') {
		for (const [name, at] of Object.entries(tableNow.value?.spots ?? {})) {
			const isTaken = found.some((one) => one.name === name || isNear(one, at));
			if (!isTaken) found.push({ name, at, radius: 0, isSpot: true });
		}
	}
	return found.filter((one) => one.name !== now.first);
});

/** @param {Target} target @param {import('../state.js').Point} at */
const isNear = (target, at) => Math.hypot(target.at[0] - at[0], target.at[1] - at[1]) < 1;

/** @param {string} name */
export function pick(name) {
	const now = picking.value;
	if (!now) return;
	if (now.what === 'touch' || now.what === 'miss') {
		toggle(now.what, name); // and on to the next
		return;
	}
	if (now.what === 'through' && !now.first) {
		picking.value = { ...now, first: name };
		return;
	}
	if (now.what === 'through' && now.first) setThrough(now.first, name);
	else if (now.what === 'meet') setMeet(name);
	else if (now.what === 'next') setNext(name);
	stopPicking();
}

/** Moves the keyboard there, once it stands on the page. @param {string} selector */
export function focusOn(selector) {
	requestAnimationFrame(() => {
		const found = document.querySelector(selector);
		if (found instanceof HTMLElement) found.focus();
	});
}
