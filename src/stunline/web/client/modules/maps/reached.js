// @ts-check
// Where the white can go: the search, the place that is pointed at, and taking its strike.

import { computed, effect, signal } from '../../lib/view.js';
import { searchedOf } from '../goal/searched.js';
import { change, placeWay } from '../state.js';
import { makeStudy } from './study.js';

/**
 * @typedef {import('../state.js').Point} Point
 * @typedef {[number, number, number, number, number, number, number, number]} Row where it rests,
 *   number of the kind, aim, pace, height, side, elevation
 * @typedef {{ layer: string, shares: string[][], tried: string, kinds: string[], places: Row[] }} Told
 * @typedef {{ asked: Point, at: Point, away: number, kind: string, strike: { aim: number,
 *   pace: number, height: number, side: number, elevation: number } }} Place
 */

const LETTER = 'X'; // at the end of its way on the plan; no ball has it

export const study = /** @type {ReturnType<typeof makeStudy<Told>>} */ (
	makeStudy('/api/reaches', searchedOf)
);
/** Whether the fold is open, and so whether the plan shows the regions. */
export const isShown = signal(false);
const asked = signal(/** @type {Point | null} */ (null));

/** What was found, while it is about the position as it is. */
const found = computed(() => (isShown.value && study.isCurrent.value ? study.told.value : null));
/** The regions as the server drew them; "" for none. */
export const layer = computed(() => found.value?.layer ?? '');
/** Whether a place can be pointed at. */
export const canPoint = computed(() => (found.value?.places.length ?? 0) > 0);

/** The reached place nearest to the one that is pointed at. */
export const place = computed(() => {
	const told = found.value;
	if (!asked.value || !told || told.places.length === 0) return null;
	const [x, y] = asked.value;
	const away = (/** @type {Row} */ row) => Math.hypot(row[0] - x, row[1] - y);
	const best = told.places.reduce((one, other) => (away(other) < away(one) ? other : one));
	const [across, up, kind, aim, pace, height, side, elevation] = best;
	return /** @type {Place} */ ({
		asked: asked.value,
		at: [across, up],
		away: away(best),
		kind: told.kinds[kind] ?? '',
		strike: { aim, pace, height, side, elevation },
	});
});

effect(() => {
	placeWay.value = place.value && { letter: LETTER, ...place.value.strike };
});

/** @param {Point | null} at */
export function pointAt(at) {
	asked.value = at;
}

/**
 * Takes the strike with the aim that was found, as it is: rounded it could leave the white
 * elsewhere. The pot that it was found for stays the goal's. @param {Place} one
 */
export function takePlace({ strike: { aim, pace, height, side, elevation } }) {
	change('take the strike to that place', (position) => {
		const strike = (position.strike ??= {});
		if (strike.pot && position.goal && !position.goal.pot) position.goal.pot = strike.pot;
		for (const key of ['pot', 'contact', 'arrive', 'side', 'elevation']) delete strike[key];
		Object.assign(strike, { aim, pace, height }, side && { side }, elevation && { elevation });
	});
	study.keep();
	asked.value = null;
}
