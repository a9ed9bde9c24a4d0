// @ts-check
// A long job about the position, watched as it grows and stopped: maps of a strike or of the table.

import { computed, signal } from '../../lib/view.js';
import { get, post, remove } from '../api.js';
import { documentNow, notice, theme } from '../state.js';

const ASKED_EVERY = 250; // ms between two looks at how far it is

/** @typedef {import('../state.js').FaultLine} FaultLine */

/**
 * @template Told
 * @param {string} address where it is begun
 * @param {(position: any) => unknown} dependsOn what of the position it is about
 */
export function makeStudy(address, dependsOn) {
	const job = signal(
		/** @type {{ number: string, state: string, words: string, done: number } | null} */ (null),
	);
	const told = signal(/** @type {Told | null} */ (null));
	const faults = signal(/** @type {FaultLine[]} */ ([]));
	const about = signal(/** @type {string[]} */ ([]));
	const isStopping = signal(false);
	const aboutNow = computed(() => JSON.stringify(dependsOn(documentNow.value)));
	const isCurrent = computed(() => about.value.includes(aboutNow.value));
	const isRunning = computed(() => ['waiting', 'running'].includes(job.value?.state ?? ''));

	/** @param {any} now */
	function note(now) {
		job.value = { number: now.job, state: now.state, words: now.words, done: now.done };
		if (now.growing) told.value = now.growing;
		if (now.state === 'failed') faults.value = now.error?.faults ?? [];
	}

	/** @param {Error} error */
	function refuse(error) {
		notice.value = { words: error.message };
		job.value = null;
	}

	async function run() {
		told.value = null;
		faults.value = [];
		isStopping.value = false;
		about.value = [aboutNow.value];
		try {
			let now = await post(address, { document: documentNow.value, theme: theme.value });
			for (note(now); ['waiting', 'running'].includes(now.state); note(now)) {
				await new Promise((next) => setTimeout(next, ASKED_EVERY));
				now = await get(`/api/jobs/${now.job}`);
			}
		} catch (error) {
			refuse(/** @type {Error} */ (error));
		}
	}

	async function stop() {
		if (!job.value) return;
		isStopping.value = true;
		try {
			note(await remove(`/api/jobs/${job.value.number}`));
		} catch (error) {
			refuse(/** @type {Error} */ (error));
		}
	}

	/** What was found is about the position as it is now, too. */
	function keep() {
		about.value = [...about.value, aboutNow.value];
	}

	return { job, told, faults, isStopping, isCurrent, isRunning, run, stop, keep };
}
