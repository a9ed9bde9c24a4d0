// @ts-check
// Pinned strikes: the rungs of a ladder on the same plan. What is pinned stays as it was struck.

import { html } from '../../lib/view.js';
import { answer, change, documentNow, hidden, notice, pinned, preview } from '../state.js';
import { written } from './number.js';
import { elevation, height, pace, side } from './settled.js';
import { takeStrike } from './strike_edits.js';

const MOST = 12; // as many as the server draws on one plan
const SAME = 5e-4; // m/s, of two paces that are one

/** @typedef {import('../state.js').PinnedStrike} PinnedStrike */

/** The strike as it stands: with numbers where it was solved, so that marks know their places. */
function strikeNow() {
	const own = documentNow.value?.strike ?? {};
	/** @type {PinnedStrike} */
	const strike = { pace: Number(pace.value.toFixed(3)) };
	if ('arrive' in own) strike.arrive = own.arrive;
	else strike.height = Number(height.value.toFixed(2));
	if (side.value !== 0) strike.side = side.value;
	if (elevation.value !== 0) strike.elevation = elevation.value;
	return strike;
}

export function pin() {
	const strike = strikeNow();
	if (pinned.value.some((one) => isSame(one, strike))) {
		notice.value = { words: 'This strike is pinned already.' };
		return;
	}
	if (pinned.value.length >= MOST) {
		notice.value = {
			words: `${MOST} strikes are pinned, which is as many as one plan can show. Unpin one first.`,
		};
		return;
	}
	change('pin the strike', (position, draft) => {
		draft.pinned = [...draft.pinned, strike].sort(
			(one, two) => Number(one.pace) - Number(two.pace),
		);
		keepAsLadder(position, draft.pinned);
	});
}

/** @param {PinnedStrike} one @param {PinnedStrike} two */
const isSame = (one, two) =>
	Math.abs(Number(one.pace) - Number(two.pace)) < SAME &&
	JSON.stringify({ ...one, pace: 0 }) === JSON.stringify({ ...two, pace: 0 });

/**
 * Strikes that differ in pace alone are the position's own ladder, so that sheets print it.
 * @param {import('../state.js').PositionDocument} position @param {PinnedStrike[]} strikes
 */
function keepAsLadder(position, strikes) {
	const rest = strikes.map((one) => JSON.stringify({ ...one, pace: 0 }));
	if (strikes.length > 0 && rest.every((one) => one === rest[0])) {
		position.ladder = { vary: 'pace', values: strikes.map((one) => Number(one.pace)) };
	}
}

/** @param {number} index */
function unpin(index) {
	preview.value = null;
	change('unpin a strike', (position, draft) => {
		draft.pinned = draft.pinned.filter((_, at) => at !== index);
		keepAsLadder(position, draft.pinned);
	});
}

function unpinAll() {
	preview.value = null;
	change('unpin all strikes', (_, draft) => {
		draft.pinned = [];
	});
}

/** Pins what the position's own ladder varies. */
function pinLadder() {
	const ladder = documentNow.value?.ladder;
	const strike = strikeNow();
	change('pin the ladder', (_, draft) => {
		draft.pinned = ladderValues(ladder)
			.slice(0, MOST)
			.map((value) => rung(strike, ladder.vary, value));
	});
}

/** @param {PinnedStrike} strike @param {string} vary @param {number} value @returns {PinnedStrike} */
function rung(strike, vary, value) {
	const changed = { ...strike, [vary]: value };
	if (vary === 'height') delete changed.arrive;
	return changed;
}

/** @param {any} ladder @returns {number[]} */
function ladderValues(ladder) {
	if (!['pace', 'height', 'side'].includes(ladder?.vary)) return [];
	return (ladder.values ?? []).filter((/** @type {unknown} */ one) => typeof one === 'number');
}

/** The pinned strikes, each with what it comes to. */
export function Pins() {
	const strikes = pinned.value;
	const inFile = ladderValues(documentNow.value?.ladder).length;
	if (strikes.length === 0 && inFile === 0) return null;
	return html`<section class="pins">
		<div class="with-action">
			<h2 class="soft small">${strikes.length ? 'Pinned' : 'Ladder'}</h2>
			${
				strikes.length
					? html`<button class="small" onClick=${unpinAll}>Unpin all</button>`
					: html`<button class="small" onClick=${pinLadder}>Pin this position’s ${inFile} rungs</button>`
			}
		</div>
		<ol>${strikes.map((strike, index) => html`<${PinRow} key=${index} strike=${strike} index=${index} />`)}</ol>
	</section>`;
}

/** @param {{ strike: PinnedStrike, index: number }} props */
function PinRow({ strike, index }) {
	const told = answer.value?.pinned[index];
	const label = `${written(Number(strike.pace), 2)} m/s`;
	const look = () => (preview.value = strike);
	const away = () => (preview.value = null);
	const take = () => {
		away();
		takeStrike(strike);
	};
	return html`<li>
		<button class="take" onClick=${take} onMouseEnter=${look} onMouseLeave=${away} onFocus=${look} onBlur=${away}
			><span class="pin-number">${index + 1}</span><span>${label}</span><span class="soft pin-words">${hidden.value ? '' : (told?.words ?? '')}</span></button>
		<button class="soft small" aria-label=${`Unpin number ${index + 1}, ${label}`} onClick=${() => unpin(index)}>Unpin</button>
	</li>`;
}
