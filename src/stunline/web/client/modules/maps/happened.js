// @ts-check
// What really happened after the stroke: it stands in the position's file, and is told back.

import { computed, signal } from '../../lib/view.js';
import { tableNow } from '../equipment.js';
import { change, documentNow } from '../state.js';
import { makeStudy } from './study.js';

/**
 * @typedef {import('../state.js').Point} Point
 * @typedef {'white_rest' | 'white_passed'} Place
 * @typedef {{ told_back: string[], seen: string, rows: string[][], basis: string, map: string,
 *   layer: string }} Told
 */

export const study = /** @type {ReturnType<typeof makeStudy<Told>>} */ (
	makeStudy('/api/played', (position) => {
		const { title: _title, ladder: _ladder, note: _note, ...told } = position ?? {};
		return told;
	})
);

/** What is known of the stroke; empty while nothing is. */
export const happenedNow = computed(
	() => /** @type {Record<string, any>} */ (documentNow.value?.played ?? {}),
);
/** Whether the fold is open. */
export const isShown = signal(false);
/** What the next tap on the plan is; null: the plan's own. */
export const tapping = signal(/** @type {Place | null} */ (null));
/** The ways that are drawn on the plan. */
export const layer = computed(() =>
	isShown.value && study.isCurrent.value ? (study.told.value?.layer ?? '') : '',
);

/** @param {string} label @param {string} key @param {any} value undefined takes it out */
function tell(label, key, value) {
	change(label, (position) => {
		position.played ??= {};
		if (value === undefined) delete position.played[key];
		else position.played[key] = value;
		if (Object.keys(position.played).length === 0) delete position.played;
	});
}

/** @param {Place} key @param {Point} at [mm] */
export function tellPlace(key, [x, y]) {
	const table = tableNow.value;
	const within = (/** @type {number} */ value, /** @type {number} */ most) =>
		Math.round(Math.min(Math.max(value, 0), most));
	const at = table ? [within(x, table.width), within(y, table.length)] : [x, y];
	const words = key === 'white_rest' ? 'ended' : 'passed';
	tell(`tell where the white ${words}`, key, at);
	tapping.value = null;
}

/** @param {Place} key */
export const forgetPlace = (key) => tell('forget a place', key, undefined);

/** @param {string} ball "" for none */
export const tellMet = (ball) => tell('tell what the white met', 'white_met', ball || undefined);

/** @param {string} ball @param {string} fate "potted", "not_potted" or "" */
export function tellFate(ball, fate) {
	change('tell what became of the object ball', (position) => {
		const { potted: _in, not_potted: _out, ...others } = position.played ?? {};
		position.played = fate ? { ...others, [fate]: ball } : others;
		if (Object.keys(position.played).length === 0) delete position.played;
	});
}
