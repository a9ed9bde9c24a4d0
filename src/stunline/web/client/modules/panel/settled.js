// @ts-check
// The shot of the document itself, while another one is looked at for a moment.

import { computed, effect, signal } from '../../lib/view.js';
import { answer, documentNow, preview } from '../state.js';

/** The newest answer that belongs to the document, not to what the strip is hovered at. */
export const settled = signal(/** @type {import('../state.js').Answer | null} */ (null));

effect(() => {
	const newest = answer.value;
	if (newest && preview.peek() === null) settled.value = newest;
});

/**
 * A value of the strike: as the document has it, where it is a number; else as it was solved.
 * So a control shows what the hand does at once, without waiting for the server.
 * @param {'pace' | 'height' | 'side' | 'elevation' | 'aim'} key
 */
function value(key) {
	return computed(() => {
		const strike = documentNow.value?.strike ?? {};
		const own = strike[key];
		if (typeof own === 'number') return own;
		if (own === undefined && isNought(key, strike)) return 0;
		return settled.value?.strike[key] ?? 0;
	});
}

/**
 * What a position leaves out is nought, except a height that the arrival decides.
 * @param {string} key @param {Record<string, unknown>} strike
 */
function isNought(key, strike) {
	return key === 'side' || key === 'elevation' || (key === 'height' && !('arrive' in strike));
}

export const pace = value('pace'); // [m/s]
export const height = value('height'); // [mm]
export const side = value('side'); // [mm]
export const elevation = value('elevation'); // [°]
export const aim = value('aim'); // [°]
