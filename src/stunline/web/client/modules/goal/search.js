// @ts-check
// The search for strikes that meet the goal: run, watched as it goes, stopped; and taking one.

import { computed, effect, signal } from '../../lib/view.js';
import { get, post, remove } from '../api.js';
import {
	answer,
	change,
	documentNow,
	fault,
	goalWays,
	notice,
	optionShown,
	tableWindow,
} from '../state.js';
import { searchedOf } from './searched.js';

/**
 * @typedef {import('../state.js').Point} Point
 * @typedef {{ aim: number, pace: number, height: number, side: number, elevation: number }} Numbers
 * @typedef {{ letter: string, strike: Numbers, words: string, kind: string, arrives: string,
 *   chance: string, tables: string, fault: string, way: Point[], end: Point }} Option
 * @typedef {{ found: boolean, options: Option[], complete: boolean, goal: string, searched: string,
 *   count: string, more: number, help: { what: string, words: string, strike: Numbers }[] }} Found
 * @typedef {import('../state.js').FaultLine} FaultLine
 */

const ROUND = 120; // shown round the ways [mm]
const ASKED_EVERY = 200; // ms between two looks at how far it is

/** The search that runs, or that ran last. */
export const job = signal(
	/** @type {{ number: string, state: string, words: string, done: number } | null} */ (null),
);
const foundLast = signal(/** @type {Found | null} */ (null));
/** What the search refused; told beside the fields. */
const refused = signal(/** @type {FaultLine[]} */ ([]));
/** Documents that the results are about: the one searched, and those that taking one made of it. */
const about = signal(/** @type {string[]} */ ([]));

const aboutNow = computed(() => JSON.stringify(searchedOf(documentNow.value)));
export const isCurrent = computed(() => about.value.includes(aboutNow.value));
export const isRunning = computed(() => ['waiting', 'running'].includes(job.value?.state ?? ''));
/** It was asked to stop, and looks into what it has. */
export const isStopping = signal(false);
/** What was found; null before there is anything. */
export const found = computed(() => (foundLast.value?.found ? foundLast.value : null));
/** The options, while the position is the one that was searched. */
export const options = computed(() => (isCurrent.value ? (found.value?.options ?? []) : []));
effect(() => {
	goalWays.value = options.value.map(({ letter, strike }) => ({ letter, ...strike }));
});

/** Everything wrong with the goal, by its key. */
export const goalFaults = computed(() => {
	const live = fault.value?.faults ?? /** @type {any} */ (answer.value)?.goal_faults ?? [];
	const mine = isCurrent.value ? refused.value : [];
	const all = [...live, ...mine].filter(({ key }) => key === 'goal' || key.startsWith('goal.'));
	return /** @type {FaultLine[]} */ (
		all.filter((one, at) => all.findIndex(({ what }) => what === one.what) === at)
	);
});

/** What kept the search from beginning and has no field of its own. */
export const otherFaults = computed(() =>
	isCurrent.value
		? refused.value.filter(({ key }) => key !== 'goal' && !key.startsWith('goal.'))
		: [],
);

/** Searches for what the document's goal asks. */
export async function search() {
	const position = documentNow.value;
	foundLast.value = null;
	isStopping.value = false;
	refused.value = [];
	about.value = [JSON.stringify(searchedOf(position))];
	try {
		await follow(await post('/api/choices', { document: position }));
	} catch (error) {
		notice.value = { words: /** @type {Error} */ (error).message };
		job.value = null;
	}
}

/** @param {any} told */
async function follow(told) {
	let now = told;
	for (;;) {
		note(now);
		if (!['waiting', 'running'].includes(now.state)) break;
		await new Promise((next) => setTimeout(next, ASKED_EVERY));
		now = await get(`/api/jobs/${told.job}`);
	}
	showAll(options.value.flatMap(({ way }) => way));
	if (now.state === 'failed') {
		refused.value = now.error?.faults ?? [];
		job.value = null;
	}
}

/** The plan grows until all of these are on it. @param {Point[]} places */
function showAll(places) {
	const seen = tableWindow.value;
	if (!seen || places.length === 0) return;
	const across = places.map(([x]) => x);
	const up = places.map(([, y]) => y);
	const isOutside = (/** @type {Point} */ [x, y]) =>
		x < seen[0] || y < seen[1] || x > seen[2] || y > seen[3];
	if (!places.some(isOutside)) return;
	tableWindow.value = [
		Math.min(seen[0], ...across.map((x) => x - ROUND)),
		Math.min(seen[1], ...up.map((y) => y - ROUND)),
		Math.max(seen[2], ...across.map((x) => x + ROUND)),
		Math.max(seen[3], ...up.map((y) => y + ROUND)),
	];
}

/** @param {any} now */
function note(now) {
	job.value = { number: now.job, state: now.state, words: now.words, done: now.done };
	if (now.growing) foundLast.value = now.growing;
}

/** Stops it; what was found until then is still looked into, unless it is asked again. */
export async function stop() {
	if (!job.value) return;
	isStopping.value = true;
	try {
		note(await remove(`/api/jobs/${job.value.number}`));
	} catch (error) {
		notice.value = { words: /** @type {Error} */ (error).message };
	}
}

/** @param {number} value @param {number} digits */
const rounded = (value, digits) => Number(value.toFixed(digits)) + 0;

/**
 * Takes a strike that was found, with its own aim; the pot that it was found for stays the goal's.
 * @param {Numbers} numbers @param {string} name of it, as undo says it
 */
export function take(numbers, name) {
	const wasCurrent = isCurrent.value;
	optionShown.value = null;
	change(`take ${name}`, (position) => {
		const strike = (position.strike ??= {});
		if (strike.pot && position.goal && !position.goal.pot) position.goal.pot = strike.pot;
		for (const key of ['pot', 'contact', 'arrive', 'side', 'elevation']) delete strike[key];
		strike.aim = rounded(numbers.aim, 4);
		strike.pace = rounded(numbers.pace, 3);
		strike.height = rounded(numbers.height, 2);
		const [side, raised] = [rounded(numbers.side, 2), rounded(numbers.elevation, 2)];
		if (side) strike.side = side;
		if (raised) strike.elevation = raised;
	});
	if (wasCurrent) about.value = [...about.value, aboutNow.value];
}
