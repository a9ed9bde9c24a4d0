// @ts-check
// What came of a shot, typed: distances from cushions, times, turns. What is wrong is told beside
// its field and stays there.

import { html, useEffect, useSignal } from '../../lib/view.js';
import { Choice } from '../panel/aim.js';
import { asMillimetres, KINDS, tappable, target } from './readings.js';
import { entryNow, record, saveNow, type } from './record.js';
import { Stopwatch } from './stopwatch.js';

/** @typedef {import('./record.js').Play} Play */

const LONG_STEP = 10; // of an arrow key with shift [mm]
const TIMED = [
	['hand', 'timed by hand'],
	['frames', 'frames of a film counted'],
];
/** @type {Record<string, string>} */
const SET_UP_WORDS = { white: 'The white is set', object: 'The object ball is set' };

/** @param {{ play: Play }} props */
export function Entry({ play }) {
	return html`<section class="gauge-entry" aria-label="Write down">
		<h3>Write down</h3>
		<p class="small">${play.write_down}${tappable.value.length > 0 && ' Tap the plan, then type it finer.'}</p>
		${tappable.value.length > 1 && html`<${Target} />`}
		${play.readings.map((key) => html`<${Reading} key=${key} reading=${key} play=${play} />`)}
	</section>`;
}

/** Which ball a tap on the plan puts. */
function Target() {
	return html`<p class="gauge-target small" role="group" aria-label="A tap on the plan puts">A tap puts ${tappable.value.map(
		(key) => html`<button key=${key} aria-pressed=${target.value === key}
			onClick=${() => (target.value = key)}>${KINDS[key]?.tap}</button>`,
	)}</p>`;
}

/** @param {{ reading: string, play: Play }} props */
function Reading({ reading, play }) {
	const words = KINDS[reading]?.words ?? reading;
	const optional = !play.needed.includes(reading);
	return html`<div class="gauge-reading">
		<span>${words}${optional && html` <span class="small soft">if you can</span>`}</span>
		<span class="gauge-fields">
			${reading.endsWith('_rest') && html`<${Place} name=${reading} words=${words} />`}
			${reading === 'white_cushion' && html`<${Touch} />`}
			${reading === 'time' && html`<${Time} />`}
			${reading === 'turns' && html`<${TypedText} label="Turns until it stands" value=${entryNow.value.turns} onType=${(/** @type {string} */ text) => type('turns', text)} />`}
		</span>
		<${Faults} name=${reading} play=${play} />
	</div>`;
}

/** A place: from two cushions, each of which may be the one or the one across. @param {{ name: string, words: string }} props */
function Place({ name, words }) {
	const table = record.value?.table;
	if (!table) return null;
	const [near = '', right = '', far = '', left = ''] = table.cushions;
	const value = entryNow.value[name] ?? ['', ''];
	const put = (/** @type {number} */ index) => (/** @type {string} */ text) => {
		const both = [...(entryNow.value[name] ?? ['', ''])];
		both[index] = text;
		type(name, both);
	};
	return html`<${FromCushion} words=${words} cushions=${[left, right]} size=${table.width} value=${value[0]} onType=${put(0)} />
		<${FromCushion} words=${words} cushions=${[near, far]} size=${table.length} value=${value[1]} onType=${put(1)} />`;
}

/**
 * A distance from a cushion or from the one across, which is turned into the first's.
 * @param {{ words: string, cushions: string[], size: number, value: string, onType: (text: string) => void }} props
 */
function FromCushion({ words, cushions, size, value, onType }) {
	const across = useSignal(false);
	const cushion = cushions[across.value ? 1 : 0] ?? '';
	const turned = (/** @type {string} */ text) => {
		if (!across.value || !text.trim()) return text;
		const mm = asMillimetres(text);
		return mm === null ? `${text} from ${cushion}` : String(Math.round((size - mm) * 10) / 10);
	};
	const seen = across.value ? turned(value).replace(/ from .*$/, '') : value;
	return html`<span class="gauge-from"><${TypedText} label=${`${words}: from the ${cushion} cushion, in millimetres`}
			value=${seen} onType=${(/** @type {string} */ text) => onType(turned(text))} />
		<span class="small soft">mm from</span> <${Choice} label=${`${words}: measured from`} value=${cushion} options=${cushions.map((one) => [one, one])}
			onChoose=${(/** @type {string} */ one) => (across.value = one === cushions[1])} /></span>`;
}

/** A cushion, and how far along it. */
function Touch() {
	const table = record.value?.table;
	if (!table) return null;
	const [near = '', right = '', , left = ''] = table.cushions;
	const value = entryNow.value.white_cushion ?? { cushion: '', at: '' };
	const from = [near, table.cushions[2]].includes(value.cushion) ? left : near;
	const put = (/** @type {object} */ part) =>
		type('white_cushion', { ...(entryNow.value.white_cushion ?? value), ...part });
	const options = [
		['', 'no cushion yet'],
		...[near, right, table.cushions[2] ?? '', left].map((one) => [one, one]),
	];
	return html`<span class="gauge-from"><${Choice} label="Cushion that the white touches first" value=${value.cushion} options=${options}
			onChoose=${(/** @type {string} */ cushion) => put({ cushion })} />
		<${TypedText} label=${`Along that cushion from the ${from} end, in millimetres`} value=${value.at}
			onType=${(/** @type {string} */ at) => put({ at })} />
		<span class="small soft">mm from ${from}</span></span>`;
}

function Time() {
	const takeWatch = (/** @type {string} */ seconds) => {
		type('time', seconds);
		type('timed_by', 'hand');
	};
	return html`<span class="gauge-from"><${TypedText} label="Time, in seconds" value=${entryNow.value.time} step=${0.01}
			onType=${(/** @type {string} */ text) => type('time', text)} /><span class="small soft">s</span>
		<${Stopwatch} onTake=${takeWatch} />
		<${Choice} label="How it was timed" value=${entryNow.value.timed_by ?? 'hand'} options=${TIMED}
			onChoose=${(/** @type {string} */ by) => type('timed_by', by)} /></span>`;
}

/**
 * A field that keeps what is typed, whatever the server says of it; arrows change a number by one.
 * @param {{ label: string, value: string, step?: number, onType: (text: string) => void }} props
 */
function TypedText({ label, value, step = 1, onType }) {
	const own = useSignal(/** @type {string | null} */ (null));
	useEffect(() => () => void saveNow(), []);
	const input = (/** @type {Event} */ event) => {
		own.value = /** @type {HTMLInputElement} */ (event.target).value;
		onType(own.value);
	};
	const leave = () => {
		own.value = null;
		saveNow();
	};
	const keys = (/** @type {KeyboardEvent} */ event) => {
		if (event.key === 'Enter') saveNow();
		const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
		const now = Number((own.value ?? value ?? '').replace(',', '.') || Number.NaN);
		if (!way || !Number.isFinite(now)) return;
		event.preventDefault();
		const moved = now + way * step * (event.shiftKey ? LONG_STEP : 1);
		own.value = String(Number(moved.toFixed(2)));
		onType(own.value);
	};
	return html`<span class="typed"><input inputmode="decimal" autocomplete="off" aria-label=${label} value=${own.value ?? value ?? ''}
		onInput=${input} onBlur=${leave} onKeyDown=${keys} /></span>`;
}

/** What is wrong with a key, and what is allowed. @param {{ name: string, play: Play }} props */
function Faults({ name, play }) {
	const mine = play.faults.filter(
		({ key }) =>
			key === name || key.startsWith(`${name}.`) || (name === 'time' && key === 'timed_by'),
	);
	if (mine.length === 0) return null;
	const inches = mine.some((one) => one.what.includes('looks like inches'));
	const asInches = () =>
		type(
			name,
			(entryNow.value[name] ?? []).map((/** @type {string} */ text) => `${text} in`),
		);
	return html`<div class="gauge-faults" role="alert">${mine.map(
		(one) => html`<p class="small note">${sentence(one)}</p>`,
	)}${inches && html`<button class="small" onClick=${asInches}>They are inches</button>`}</div>`;
}

/** @param {import('../state.js').FaultLine} one */
const sentence = (one) =>
	`${one.what[0]?.toUpperCase()}${one.what.slice(1).replaceAll('_', ' ')} (${one.given}). Allowed: ${one.allowed}. Try: ${one.remedy}.`;

/** Where balls, aim and drop are not the menu's. @param {{ play: Play }} props */
export function SetUpFields({ play }) {
	const faulty = play.faults.some(({ key }) => ['white', 'object', 'aim', 'drop'].includes(key));
	const keys = ['white', 'object'].filter((key) => key in play.entry);
	return html`<details class="gauge-set-up" open=${faulty}>
		<summary>Set up otherwise</summary>
		${keys.map(
			(key) => html`<div class="gauge-reading" key=${key}><span>${SET_UP_WORDS[key]}</span>
			<span class="gauge-fields"><${Place} name=${key} words=${SET_UP_WORDS[key] ?? key} /></span><${Faults} name=${key} play=${play} /></div>`,
		)}
		<div class="gauge-reading"><span>Aim</span><span class="gauge-from"><${TypedText} label="Aim, in degrees" value=${entryNow.value.aim}
			onType=${(/** @type {string} */ text) => type('aim', text)} /><span class="small soft">° (0 to the right, 90 up)</span></span><${Faults} name="aim" play=${play} /></div>
		${
			'drop' in play.entry &&
			html`<div class="gauge-reading"><span>Drop on the ramp</span><span class="gauge-from"><${TypedText} label="Drop of the ball’s centre on the ramp, in millimetres"
			value=${entryNow.value.drop} onType=${(/** @type {string} */ text) => type('drop', text)} /><span class="small soft">mm of the ball’s centre</span></span><${Faults} name="drop" play=${play} /></div>`
		}
	</details>`;
}
