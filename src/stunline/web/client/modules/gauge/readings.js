// @ts-check
// What can be written down of a shot, in words; which of it a tap on the plan puts.

import { computed, effect, signal } from '../../lib/view.js';
import { entryNow, playNow } from './record.js';

/** @type {Record<string, { words: string, tap: string }>} */
export const KINDS = {
	white_rest: { words: 'The white rests', tap: 'White' },
	object_rest: { words: 'The object ball rests', tap: 'Object ball' },
	white_cushion: { words: 'The white first touches a cushion', tap: 'Cushion touch' },
	time: { words: 'Time', tap: '' },
	turns: { words: 'Turns', tap: '' },
};
const MM_PER_INCH = 25.4; // exact, by definition
const LENGTH = /^(\d*\.?\d+)(?:[ -](\d+)\/(\d+))?\s*(mm|in|inch|inches|"|″)?$/;

/** The newest plan of the shot, with the rows of its set-up. */
export const plan = signal(
	/** @type {{ svg: string, window: [number, number, number, number], rows: string[][] } | null} */ (
		null
	),
);

/** Readings of the shot that are places. */
export const tappable = computed(() => (playNow.value?.readings ?? []).filter(isPlace));
/** The one that a tap on the plan puts. */
export const target = signal('');

let of = '';
effect(() => {
	const play = playNow.value;
	const now = `${play?.number} ${play?.name}`;
	if (now === of) return;
	of = now;
	target.value = firstOpen() ?? tappable.value[0] ?? '';
});

/** @param {string} key */
function isPlace(key) {
	return Boolean(KINDS[key]?.tap);
}

/** The first place, asked for ones before others, that nothing was put for. */
function firstOpen() {
	const needed = playNow.value?.needed ?? [];
	const order = [...tappable.value].sort((one, other) => rank(one) - rank(other));
	/** @param {string} key */
	function rank(key) {
		return needed.includes(key) ? 0 : 1;
	}
	return order.find((key) => !hasAny(entryNow.value[key]));
}

/** @param {any} typed */
function hasAny(typed) {
	return Object.values(typed ?? {}).some(Boolean);
}

/** The next tap puts what is still open. */
export function goOn() {
	target.value = firstOpen() ?? target.value;
}

/** A text that is a length, or null. @param {string} text @returns {number | null} [mm] */
export function asMillimetres(text) {
	const found = LENGTH.exec(text.trim().replace(/^(\d+),(\d+)$/, '$1.$2'));
	if (!found) return null;
	const [, whole, part, over, unit] = found;
	const amount = Number(whole) + (part && over ? Number(part) / Number(over) : 0);
	return !unit || unit === 'mm' ? amount : amount * MM_PER_INCH;
}
