// @ts-check
// Which strip is wanted: whether another one is needed, and which of those that arrive is the
// newest. The value that it varies is not among its reasons: while the pace alone is moved the
// bands stand, and only the mark goes along.

import { strip } from '../state.js';

/**
 * The newest strip asked for, in hand or on its way; null: there is none.
 * @type {{ number: number, reasons: string, fine: boolean, arrived: boolean } | null}
 */
let asked = null;
/** The looks of what is asked for, and the number of the first request that had them. */
let looks = { words: '', since: 0 };
/** The last pace for which a longer ruler was asked for. @type {number | null} */
let lastLeft = null;

/** What a strip doesn't depend on. */
const BESIDE = { title: 0, note: 0, goal: 0, ladder: 0 };
/** The value that each kind of strip varies. @type {Record<string, Record<string, number>>} */
const VARIED = { pace: { pace: 0 }, height: { height: 0, arrive: 0 } };

/** @typedef {Record<string, any>} Wish as for the server */

/** What the picture looks like, whatever it says: an older one in other looks is not shown. @param {Wish} wish */
function looksOf(wish) {
	const { theme, pinned, hidden } = wish.drawing;
	return JSON.stringify([
		...[wish.strip, wish.strip_width, wish.second_ruler, theme, pinned, hidden],
		wish.document.units,
	]);
}

/** The line to a contact, held for every value, hangs on the one that is set. @param {any} strike */
const isLineBent = (strike) => Boolean(strike?.contact && strike.elevation);

/** Everything that the bands depend on, except the value they vary. @param {Wish} wish */
function reasonsOf(wish) {
	const { strike, ...position } = { ...wish.document, ...BESIDE };
	const varied = isLineBent(strike) ? {} : VARIED[wish.strip];
	return JSON.stringify([position, { ...strike, ...varied }, looksOf(wish)]);
}

/**
 * Whether the wish needs a strip of its own; while something moves a coarse one will do.
 * @param {Wish} wish
 */
export function needsStrip(wish) {
	if (wish.strip === null) return false;
	return asked?.reasons !== reasonsOf(wish) || (!asked.fine && wish.drawing.words);
}

/** Asked for with the request of that number. @param {Wish} wish @param {number} number */
export function stripAsked(wish, number) {
	const words = looksOf(wish);
	if (words !== looks.words) looks = { words, since: number };
	asked = { number, reasons: reasonsOf(wish), fine: wish.drawing.words, arrived: false };
}

/**
 * An answer has come. "newest": it is what was asked for last, and counts. "older": it has been
 * overtaken, yet is newer than the one in hand, which it may replace while the newest is on its
 * way. "late": neither.
 * @param {{ strip: number, fault?: unknown }} message
 * @returns {'newest' | 'older' | 'late'}
 */
export function stripArrived(message) {
	const number = message.strip;
	if (asked && number === asked.number) {
		if (message.fault)
			asked = null; // asked for again with the next wish
		else asked.arrived = true;
		return 'newest';
	}
	const isNewer = number > (strip.peek()?.strip ?? 0) && number >= looks.since;
	return asked && !asked.arrived && isNewer && !message.fault ? 'older' : 'late';
}

/**
 * Whether the pace has left the ruler, so that one that reaches further is asked for next.
 * @param {Wish} wish as sent @param {number | undefined} played the pace as played
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

/** What was asked for will never arrive: the server is gone, or could not read it. */
export function stripLost() {
	if (!asked?.arrived) asked = null;
}
