// @ts-check
// The record that is being filled in: what the library has of it, and what was typed since. What is
// typed is saved as it is typed, right or wrong, one save after the other.

import { batch, computed, signal } from '../../lib/view.js';
import { get, post, put, ServerError } from '../api.js';
import { gaugeAt } from '../gauge.js';
import { notice } from '../state.js';

/**
 * @typedef {import('../state.js').Point} Point
 * @typedef {import('../state.js').FaultLine} FaultLine
 * @typedef {{ cushion: string, at: string }} Touch
 * @typedef {string | string[] | Touch} Typed
 * @typedef {Record<string, any>} Entry texts by the keys of a record file
 *
 * @typedef {object} Play
 * @property {number} number in the file
 * @property {string} name
 * @property {string} title
 * @property {'ramp' | 'cue' | 'fingers'} tool
 * @property {string} set_up
 * @property {string} do
 * @property {string} write_down
 * @property {string} tells
 * @property {string} caution
 * @property {string[]} readings
 * @property {string[]} needed
 * @property {Entry} entry
 * @property {string[]} read
 * @property {string[]} missing
 * @property {FaultLine[]} faults
 * @property {'open' | 'part' | 'faulty' | 'done'} state
 *
 * @typedef {{ name: string, title: string, width: number, length: number, radius: number,
 *   cushions: string[] }} GaugedTable near, right, far, left
 * @typedef {{ name: string, revision: string, order: string, title: string, date: string,
 *   table: GaugedTable, cloth: string, gap: string, cautions: string[],
 *   more: [string, string][], dozen: string[], faults: FaultLine[], plays: Play[] }} GaugeRecord
 */

const SAVED_AFTER = 350; // of quiet [ms]
const AGAIN_AFTER = 4000; // when it failed [ms]

export const record = signal(/** @type {GaugeRecord | null} */ (null));
/** What was typed and isn't in the library yet, by the play's number. */
const typed = signal(/** @type {Record<number, Entry>} */ ({}));
/** Where saving stands, in words. */
export const savedWords = signal('saved');

/** Which of the plays is shown, from 0. */
export const shown = computed(() => {
	const count = record.value?.plays.length ?? 1;
	const asked = Number(/\/(\d+)$/.exec(gaugeAt.value ?? '')?.[1] ?? 1) - 1;
	return Math.min(Math.max(asked, 0), count - 1);
});
export const playNow = computed(() => record.value?.plays[shown.value] ?? null);
/** The entry of that play as it is typed. */
export const entryNow = computed(() => {
	const play = playNow.value;
	return play ? { ...play.entry, ...typed.value[play.number] } : /** @type {Entry} */ ({});
});

/** @param {string} name */
const at = (name) => `/api/records/${encodeURIComponent(name)}`;

let timer = 0;
/** What is being saved; the next waits for it. */
let queue = Promise.resolve();

/** @typedef {{ name: string, title: string, date: string, table: string, done: number, plays: number }} Listed */

/** @returns {Promise<{ records: Listed[], cautions: string[] }>} */
export const listRecords = () => get('/api/records');

/** @param {object} wish */
export async function startRecord(wish) {
	show(await post('/api/records', wish), 0);
}

/** The record that the address names, if it isn't there already. @param {string} address */
export async function openFromAddress(address) {
	const name = nameIn(address);
	if (!name) {
		record.value = null;
		return;
	}
	if (record.value?.name === name) return;
	try {
		record.value = await get(at(name));
	} catch (error) {
		notice.value = { words: /** @type {Error} */ (error).message };
		goTo('gauge');
	}
}

/** @param {string} address */
function nameIn(address) {
	try {
		return decodeURIComponent(address.replace(/\/\d+$/, ''));
	} catch {
		return ''; // an address that was cut in the middle of a letter
	}
}

/** @param {GaugeRecord} found @param {number} index of the play */
function show(found, index) {
	batch(() => {
		record.value = found;
		goTo(`gauge=${encodeURIComponent(found.name)}/${index + 1}`);
	});
}

/** Puts it in the address without a step back for each shot. @param {string} hash */
function goTo(hash) {
	history.replaceState(null, '', `#${hash}`);
	gaugeAt.value = hash === 'gauge' ? '' : hash.replace('gauge=', '');
}

/** Shows another play; what was typed for this one is saved at once. @param {number} index */
export function showPlay(index) {
	const now = record.value;
	if (!now) return;
	show(now, index);
	saveNow();
}

/** To the list of records, once everything typed is saved. */
export async function closeRecord() {
	await saveNow();
	if (Object.keys(typed.value).length > 0) notice.value = { words: savedWords.value };
	else goTo('gauge');
}

/** @param {string} key @param {Typed} value */
export function type(key, value) {
	const play = playNow.value;
	if (!play) return;
	const own = { ...typed.value[play.number], [key]: value };
	typed.value = { ...typed.value, [play.number]: own };
	savedWords.value = 'saving';
	wait(SAVED_AFTER);
}

/** @param {number} milliseconds */
function wait(milliseconds) {
	clearTimeout(timer);
	timer = setTimeout(saveNow, milliseconds);
}

/** Saves what was typed, and what is typed meanwhile. */
export function saveNow() {
	clearTimeout(timer);
	queue = queue.then(saveAll);
	return queue;
}

async function saveAll() {
	for (;;) {
		const now = record.value;
		const [first] = Object.entries(typed.value);
		if (!now || !first) return;
		const [number, entry] = first;
		try {
			const saved = await put(`${at(now.name)}/plays/${number}`, { order: now.order, entry });
			took(saved, number, entry);
		} catch (error) {
			await failed(/** @type {Error} */ (error), now.name);
			return;
		}
	}
}

/** @param {GaugeRecord} saved @param {string} number @param {Entry} entry */
function took(saved, number, entry) {
	const since = Object.entries(typed.value[Number(number)] ?? {}).filter(
		([key, value]) => entry[key] !== value,
	);
	const { [Number(number)]: _, ...others } = typed.value;
	batch(() => {
		typed.value = since.length ? { ...others, [number]: Object.fromEntries(since) } : others;
		record.value = saved;
		savedWords.value = Object.keys(typed.value).length ? 'saving' : 'saved';
	});
}

/** @param {Error} error @param {string} name */
async function failed(error, name) {
	savedWords.value = `not saved: ${error.message}`;
	if (!(error instanceof ServerError)) wait(AGAIN_AFTER);
	else if (error.status === 409) {
		const lost = JSON.stringify(Object.values(typed.value));
		notice.value = { words: `${error.message} It was: ${lost}` };
		typed.value = {};
		savedWords.value = 'saved';
		record.value = await get(at(name)).catch(() => null);
	}
}

/** Another play of the same shot, behind this one. */
export async function playAgain() {
	await saveNow();
	const [now, play] = [record.value, playNow.value];
	if (!now || !play) return;
	try {
		const grown = await post(`${at(now.name)}/plays/${play.number}/again`, { order: now.order });
		show(grown, shown.value + 1);
	} catch (error) {
		notice.value = { words: /** @type {Error} */ (error).message };
	}
}

/** Writes title, cloth or gap at once. @param {{ title?: string, cloth?: string, gap?: string }} head */
export async function saveHead(head) {
	await saveNow();
	const now = record.value;
	if (!now) return;
	const whole = { title: now.title, cloth: now.cloth, gap: now.gap, ...head };
	try {
		record.value = await put(at(now.name), { order: now.order, ...whole });
	} catch (error) {
		notice.value = { words: /** @type {Error} */ (error).message };
	}
}

/** More shots of the menu at the record's end, the first of which is shown. @param {string[]} shots */
export async function addShots(shots) {
	await saveNow();
	const now = record.value;
	if (!now) return;
	try {
		const grown = await post(`${at(now.name)}/plays`, { order: now.order, shots });
		show(grown, now.plays.length);
	} catch (error) {
		notice.value = { words: /** @type {Error} */ (error).message };
	}
}

/** Where a page that is left has something unsaved, it goes out with it. */
addEventListener('pagehide', () => {
	const now = record.value;
	if (!now) return;
	for (const [number, entry] of Object.entries(typed.value)) {
		fetch(`${at(now.name)}/plays/${number}`, {
			method: 'PUT',
			credentials: 'same-origin',
			headers: { 'Content-Type': 'application/json' },
			body: JSON.stringify({ order: now.order, entry }),
			keepalive: true,
		});
	}
});
