// @ts-check
// The fit of the record, in the background after each saved entry: the newest wins.

import { computed, effect, signal } from '../../lib/view.js';
import { get, post, remove } from '../api.js';
import { record } from './record.js';

/**
 * @typedef {{ name: string, meaning: string, unit: string, value: string, interval: string,
 *   before: string, told: boolean, prior: [number, number], now: [number, number] }} Row
 * @typedef {{ play: number, words: string, name: string }} PlayTold
 * @typedef {{ fitted: boolean, revision: string, plays: number, readings: number, rows: Row[],
 *   headings: [string, string, string][], suspects: PlayTold[], misses: PlayTold[], table: string,
 *   next: { words: string, enough: boolean, shots: { shot: string, title: string, words: string }[] } }} Fitted
 */

const FITTED_AFTER = 500; // of quiet [ms]
const ASKED_EVERY = 300; // ms between two looks at how far it is

/** The newest fit that has ended. */
export const fitted = signal(/** @type {Fitted | null} */ (null));
/** What the one under way does, or why it failed. */
export const fitWords = signal('');
/** A table is being written. */
export const writing = signal(false);
export const isOld = computed(() => fitted.value?.revision !== record.value?.revision);

let newest = 0;
let timer = 0;
/** @type {string | null} */
let running = null;

/** Fits each state of the record, until it is stopped. */
export function followRecord() {
	let name = '';
	return effect(() => {
		const now = record.value;
		if (!now) return;
		if (now.name !== name) {
			name = now.name;
			fitted.value = null;
		}
		clearTimeout(timer);
		if (!now.plays.some((play) => play.state === 'done')) return;
		if (fitted.peek()?.revision === now.revision) return;
		timer = setTimeout(() => {
			if (!writing.value) fit(now.name).catch(failed);
		}, FITTED_AFTER);
	});
}

/** @param {Error} error */
function failed(error) {
	fitWords.value = error.message;
}

/**
 * @param {string} name of the record
 * @param {string} [to] name of the table file to write
 * @returns {Promise<Fitted | null>} null: overtaken
 */
async function fit(name, to = '') {
	newest += 1;
	const mine = newest;
	if (running) remove(`/api/jobs/${running}`).catch(() => {}); // it may have ended meanwhile
	fitWords.value = 'Fitting';
	let now = await post(`/api/records/${encodeURIComponent(name)}/fit`, { to });
	running = now.job;
	while (['waiting', 'running'].includes(now.state)) {
		await new Promise((next) => setTimeout(next, ASKED_EVERY));
		now = await get(`/api/jobs/${now.job}`);
		if (mine !== newest) return null;
	}
	running = null;
	fitWords.value = '';
	if (now.state === 'failed') throw new Error(wordsOf(now.error));
	if (!now.growing?.fitted) return null;
	fitted.value = now.growing;
	return now.growing;
}

/** @param {{ faults: import('../state.js').FaultLine[] }} error */
const wordsOf = (error) =>
	error.faults.map((one) => `${one.what} (${one.given}): ${one.remedy}.`).join(' ');

/** Fits once more and writes the gauged table. @param {string} to @returns {Promise<string>} its file */
export async function writeTable(to) {
	const now = record.value;
	if (!now) return '';
	writing.value = true;
	try {
		return (await fit(now.name, to))?.table ?? '';
	} finally {
		writing.value = false;
	}
}
