// @ts-check
// The pack opened over many racks, since none is perfect: run, watched as it grows, stopped.

import { computed, html, signal, useSignal } from '../../lib/view.js';
import { get, post, remove } from '../api.js';
import { below } from '../plan/extras.js';
import { PackEnds } from '../plan/pack_ends.js';
import { documentNow, notice } from '../state.js';
import { TypedNumber } from './number.js';
import { rackOf } from './pack.js';

const USUAL_GAPS = 0.2; // as hands leave them [mm]; common practice, no source
const MOST_GAPS = 5;
const USUAL_RACKS = 2000;
const MOST_RACKS = 20000;
const ASKED_EVERY = 250; // ms between two looks at how far it is
const TOLD = ['plays', 'freed', 'on next', 'stuck', 'in-off']; // of each column of the table

/**
 * @typedef {Object} Growing what the plays have come to until now
 * @property {number} gaps the largest [mm]
 * @property {number} plays
 * @property {string[][]} rows
 * @property {string} rest
 * @property {import('../state.js').Point[]} ends of the white [mm]
 */

/** The job that runs, or that ran last. */
const job = signal(
	/** @type {{ number: string, state: string, words: string, done: number } | null} */ (null),
);
const grown = signal(/** @type {Growing | null} */ (null));
/** The document that it was about, as text. */
const about = signal('');

const isCurrent = computed(() => about.value === JSON.stringify(playedOf(documentNow.value)));
const isRunning = computed(() => ['waiting', 'running'].includes(job.value?.state ?? ''));

/** Where the white ended, while the position is the one that was played. */
export const packEnds = computed(() => (isCurrent.value ? (grown.value?.ends ?? []) : []));

/** What of a document the plays depend on. @param {any} position */
function playedOf(position) {
	const { title: _title, ladder: _ladder, goal: _goal, ...played } = position ?? {};
	return played;
}

below.value = [...below.value, PackEnds];

export function PackInside() {
	const rack = rackOf();
	const gaps = useSignal(/** @type {number | null} */ (null));
	const racks = useSignal(USUAL_RACKS);
	if (!rack) return null;
	const largest = gaps.value ?? (rack.gaps || USUAL_GAPS);
	return html`<p class="small soft">No rack is perfect: each is set anew with random gaps, and struck alike.</p>
		<div class="pack-wish">
			<label>gaps up to <${TypedNumber} label="Largest gap between neighbours" value=${largest} digits=${2} step=${0.05}
				min=${0} max=${MOST_GAPS} unit="mm" onSet=${(/** @type {number} */ typed) => (gaps.value = typed)} /></label>
			<label>racks <${TypedNumber} label="Number of racks" value=${racks.value} digits=${0} step=${100}
				min=${1} max=${MOST_RACKS} onSet=${(/** @type {number} */ typed) => (racks.value = Math.round(typed))} /></label>
			${
				isRunning.value
					? html`<button onClick=${stop}>Stop</button>`
					: html`<button onClick=${() => run(largest, racks.value)}>Open ${racks.value.toLocaleString('en-GB')} packs</button>`
			}
		</div>
		<${Grown} />`;
}

function Grown() {
	const found = grown.value;
	if (!job.value) return null;
	return html`
		<p class="small pack-state" role="status">
			<progress value=${job.value.done} max="1" aria-label="How much is played"></progress>
			${stateWords()}
		</p>
		${
			found &&
			found.plays > 0 &&
			html`<table class="pack-table" data-old=${isCurrent.value ? undefined : ''}>
				<caption class="only-spoken">What ${found.plays} plays came to</caption>
				<thead><tr><td></td>${found.rows.map(([name]) => html`<th scope="col">${name}</th>`)}</tr></thead>
				<tbody>${TOLD.map(
					(words, row) =>
						html`<tr><th scope="row">${words}</th>${found.rows.map(
							(cells) => html`<td>${cells[row + 1]}</td>`,
						)}</tr>`,
				)}</tbody>
			</table>
			<p class="small">${found.rest}</p>
			<p class="small soft">Freed: moved more than two ball widths, touching none. On next: a clear way to a
				pocket and from the white, cut less than 60°. Stuck: none on. Means, then the middle half of the
				plays; shares with their 95 % interval.</p>`
		}
	`;
}

function stateWords() {
	if (!job.value) return '';
	if (!isCurrent.value) return 'Of the position as it was; open them again for this one.';
	return job.value.state === 'cancelled' ? `Stopped: ${lastWords}.` : `${job.value.words}.`;
}

let lastWords = '';

/** @param {number} gaps [mm] @param {number} racks */
async function run(gaps, racks) {
	const position = documentNow.value;
	try {
		grown.value = null;
		about.value = JSON.stringify(playedOf(position));
		const begun = await post('/api/packs', { document: position, gaps, racks });
		await follow(begun);
	} catch (error) {
		notice.value = { words: /** @type {Error} */ (error).message };
		job.value = null;
	}
}

/** @param {any} told */
async function follow(told) {
	const number = told.job;
	let now = told;
	for (;;) {
		note(now);
		if (!['waiting', 'running'].includes(now.state)) break;
		await new Promise((next) => setTimeout(next, ASKED_EVERY));
		now = await get(`/api/jobs/${number}`);
	}
	if (now.state === 'failed') {
		const first = now.error?.faults?.[0];
		notice.value = {
			words: first ? `${first.what}. ${first.remedy}.` : 'The packs were not opened.',
		};
		job.value = null;
	}
}

/** @param {any} now */
function note(now) {
	if (now.state === 'running') lastWords = now.words;
	job.value = { number: now.job, state: now.state, words: now.words, done: now.done };
	if (now.growing) grown.value = now.growing;
}

async function stop() {
	if (job.value) await remove(`/api/jobs/${job.value.number}`);
}
