// @ts-check
// How far a search may go, and whose strokes they are.

import { html, signal, useEffect } from '../../lib/view.js';
import { get } from '../api.js';
import { goalNow, setPlayer, setVary } from '../goal/edits.js';
import { notice } from '../state.js';
import { Choice } from './aim.js';
import { Faults, toldBeside } from './goal_demands.js';
import { TypedLength } from './length.js';
import { TypedNumber } from './number.js';
import { limits } from './strike_edits.js';

const USUAL_PACES = [0.5, 4]; // as the search takes them when nothing is said [m/s]
const USUAL_PLAYER = 'club';
const USUAL_SIDE = 5; // either way, when side is allowed [mm]

/** @typedef {{ name: string, title: string, words: string, source: string }} Player */
const players = signal(/** @type {Player[]} */ ([]));

export function GoalRanges() {
	useEffect(() => {
		if (players.value.length) return;
		get('/api/players')
			.then((told) => (players.value = told.players))
			.catch((error) => (notice.value = { words: error.message }));
	}, []);
	return html`<div class="goal-ranges">
		<${Range} of="pace" words="pace" />
		<${Range} of="height" words="height" />
		<${Range} of="side" words="side" />
		<${Faults} of="vary" />
		<${PlayerChoice} />
	</div>`;
}

/** What varies now: the goal's own ranges, else the usual ones. @returns {Record<string, number[]>} */
function varied() {
	const own = goalNow.value.vary;
	if (own && Object.keys(own).length) return own;
	const safe = Math.floor(10 * limits().safe) / 10;
	return { pace: USUAL_PACES, height: [-safe, safe] };
}

/** @param {string} of @returns {number[]} */
function first(of) {
	if (of === 'side') return [-USUAL_SIDE, USUAL_SIDE];
	const safe = Math.floor(10 * limits().safe) / 10;
	return of === 'pace' ? USUAL_PACES : [-safe, safe];
}

/** @param {{ of: 'pace' | 'height' | 'side', words: string }} props */
function Range({ of, words }) {
	const span = varied()[of];
	const set = (/** @type {number[] | null} */ wanted) => {
		const { [of]: _before, ...others } = varied();
		setVary(wanted ? { ...others, [of]: wanted } : others);
	};
	const allow = (/** @type {Event} */ event) =>
		set(/** @type {HTMLInputElement} */ (event.target).checked ? first(of) : null);
	const [least, most] = Array.isArray(span) ? span : [span, span];
	return html`<div class="goal-range" role="group" aria-label=${`How far ${words} may vary`} aria-describedby=${toldBeside('vary')}>
		<label><input type="checkbox" checked=${span !== undefined} onChange=${allow} /> ${words}</label>
		${
			span === undefined
				? html`<span class="soft">${of === 'side' ? 'not allowed to vary' : 'as struck'}</span>`
				: html`<span>${of === 'pace' ? paceFields(least, most, set) : lengthFields(of, least, most, set)}</span>`
		}
	</div>`;
}

/** @typedef {(span: number[]) => void} Set */

/** @param {any} least @param {any} most @param {Set} set */
const paceFields = (
	least,
	most,
	set,
) => html`<${TypedNumber} label="Least pace, in metres a second" value=${least}
		digits=${2} step=${0.1} held=${false} onSet=${(/** @type {number} */ one) => set([one, most])} />
	to <${TypedNumber} label="Most pace, in metres a second" value=${most} unit="m/s"
		digits=${2} step=${0.1} held=${false} onSet=${(/** @type {number} */ one) => set([least, one])} />`;

/** @param {string} of @param {any} least @param {any} most @param {Set} set */
const lengthFields = (
	of,
	least,
	most,
	set,
) => html`<${TypedLength} label=${`Least ${of}`} value=${least} step=${1}
		signed=${false} onSet=${(/** @type {number} */ one) => set([one, most])} />
	to <${TypedLength} label=${`Most ${of}`} value=${most} step=${1}
		onSet=${(/** @type {number} */ one) => set([least, one])} />`;

function PlayerChoice() {
	const asked = goalNow.value.player || USUAL_PLAYER;
	const known = players.value.map(({ name, title }) => [name, title]);
	if (!known.some(([name]) => name === asked)) known.push([asked, asked]);
	const player = players.value.find(({ name }) => name === asked);
	return html`<div class="goal-player" role="group" aria-label="Whose strokes" aria-describedby=${toldBeside('player')}>
		<span>for</span> <${Choice} label="Player" value=${asked} options=${known} onChoose=${setPlayer} />
		${player && html`<p class="small soft">${player.words} (${player.source}; nobody has been measured).</p>`}
		<${Faults} of="player" />
	</div>`;
}
