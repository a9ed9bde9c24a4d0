// @ts-check
// Whether another strip is needed. The value that it varies is not among its reasons: while the
// pace alone is moved the bands stand, and only the mark goes along.

import { strip } from '../state.js';

/** What the strip in hand, or on its way, was asked with; null: there is none. */
let asked = /** @type {{ reasons: string, arrived: boolean } | null} */ (null);
/** The last pace for which a longer ruler was asked for. @type {number | null} */
let lastLeft = null;

/** What a strip doesn't depend on. */
const BESIDE = { title: 0, note: 0, goal: 0, ladder: 0, units: 0 };

/**
 * Everything that the bands depend on.
 * @param {Record<string, any>} wish as for the server
 */
function reasonsOf(wish) {
	const { strike, ...position } = { ...wish.document, ...BESIDE };
	const varied = wish.strip === 'pace' ? { pace: 0 } : { height: 0, arrive: 0 };
	const { theme, pinned, hidden } = wish.drawing;
	const looks = [wish.strip, wish.strip_width, wish.second_ruler, theme, pinned, hidden];
	return JSON.stringify([position, { ...strike, ...varied }, looks]);
}

/** Whether the wish needs a strip of its own; from then on it counts as asked for. @param {Record<string, any>} wish */
export function needsStrip(wish) {
	if (wish.strip === null) return false;
	const reasons = reasonsOf(wish);
	if (asked?.reasons === reasons) return false;
	asked = { reasons, arrived: false };
	return true;
}

/**
 * Whether the pace has left the ruler, so that one that reaches further is asked for next.
 * @param {Record<string, any>} wish as sent @param {number | undefined} played the pace as played
 */
export function hasLeftRuler(wish, played) {
	const own = wish.document.strike?.pace;
	const pace = typeof own === 'number' ? own : played;
	const shown = strip.peek();
	if (wish.strip !== 'pace' || !asked?.arrived || !shown || pace === undefined) return false;
	if (pace >= shown.start && pace <= shown.end) {
		lastLeft = null;
		return false;
	}
	if (pace === lastLeft) return false; // no ruler reaches it
	lastLeft = pace;
	asked = null;
	return true;
}

/** A strip has arrived; one that is a fault is asked for again with the next wish. @param {boolean} whole */
export function stripArrived(whole) {
	if (!whole) asked = null;
	else if (asked) asked.arrived = true;
}

/** What was asked for will never arrive: the server is gone, or could not read it. */
export function stripLost() {
	if (!asked?.arrived) asked = null;
}
