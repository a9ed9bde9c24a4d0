// @ts-check
// What is done, and what it tells so far: each coefficient's interval inside what was assumed.

import { html } from '../../lib/view.js';
import { Choice } from '../panel/aim.js';
import { fitted, fitWords, isOld } from './fit.js';
import { RecordHead } from './head.js';
import { addShots, record, shown, showPlay } from './record.js';
import { WriteTable } from './write_table.js';

/** @typedef {import('./fit.js').Row} Row */

const STATES = { open: '', part: 'in part', faulty: 'to be mended', done: 'done' };
const REACH = 2.4; // what the bars show of a scale, each way [standard deviations before]
const HIGH = 10; // of a bar, and of its picture [px]

export function Results() {
	const now = record.value;
	if (!now) return null;
	return html`<aside class="gauge-results" aria-label="Shots and what they tell">
		<${Shots} />
		<${Told} />
		<${Next} />
		${fitted.value && html`<${WriteTable} key=${now.name} />`}
		<details class="gauge-cautions"><summary>When you measure and film</summary>
			${now.cautions.map((words) => html`<p class="small" key=${words}>${words}</p>`)}
		</details>
	</aside>`;
}

function Shots() {
	const plays = record.value?.plays ?? [];
	const suspects = isOld.value ? [] : (fitted.value?.suspects ?? []).map((one) => one.play);
	const stands = (/** @type {import('./record.js').Play} */ play) =>
		suspects.includes(play.number) ? 'suspicious' : STATES[play.state];
	return html`<section>
		<h2>Shots</h2>
		<${RecordHead} />
		<ol class="gauge-shots">${plays.map(
			(
				play,
				index,
			) => html`<li key=${play.number} data-state=${play.state}><button aria-current=${index === shown.value ? 'step' : undefined}
				onClick=${() => showPlay(index)}><span>${play.title}</span><span class="small soft">${stands(play)}</span></button></li>`,
		)}</ol>
		<${More} />
	</section>`;
}

/** Which shots would narrow most what the table says, and the way to them. */
function Next() {
	const now = fitted.value?.next;
	if (!now || isOld.value) return null;
	return html`<section class="gauge-next" aria-label="What to measure next">
		<h2>Best next</h2>
		<p class="small">${now.words}${now.enough ? ' More shots would hardly narrow it: enough measured.' : ''}</p>
		${
			!now.enough &&
			html`<ol class="gauge-advised">${now.shots.map(
				(one, at) => html`<li key=${at}><button onClick=${() => goTo(one)}><span>${one.title}</span>
				<span class="small soft">${one.words}</span></button></li>`,
			)}</ol>`
		}
	</section>`;
}

/** To that shot's play that is still open, or to a new one. @param {{ shot: string, title: string }} one */
function goTo({ shot, title }) {
	const plays = record.value?.plays ?? [];
	const open = plays.findIndex((play) => play.title === title && play.state === 'open');
	if (open >= 0) showPlay(open);
	else addShots([shot]);
}

/** Goes on from the quick check, or with any shot of the menu. */
function More() {
	const { more = [], dozen = [] } = record.value ?? {};
	const options = [
		['', 'Add a shot'],
		...(dozen.length > 0 ? [['dozen', 'the rest of the full dozen']] : []),
		...more,
	];
	const add = (/** @type {string} */ shot) => shot && addShots(shot === 'dozen' ? dozen : [shot]);
	return html`<p class="small gauge-more"><${Choice} label="Add a shot of the menu" value="" options=${options} onChoose=${add} /></p>`;
}

function Told() {
	const now = fitted.value;
	return html`<section class="gauge-fit">
		<div class="with-action"><h2>What they tell</h2><span class="small soft" role="status">${state()}</span></div>
		${!now && !fitWords.value && html`<p class="small soft">Nothing yet: the first shot that is written down is fitted at once.</p>`}
		${
			now &&
			html`<div class="gauge-told" data-old=${isOld.value ? '' : undefined}>
			${now.suspects.map(
				(one) => html`<p class="small note" key=${one.words}>Suspicious: ${one.name}, ${one.words}.
				<button class="small" onClick=${() => showNumber(one.play)}>Look at it</button></p>`,
			)}
			<ul class="gauge-rows">${now.rows.map((row) => html`<${Coefficient} key=${row.name} row=${row} />`)}</ul>
			${now.headings.map(([where, value, interval]) => html`<p class="small" key=${where}>Rolling ${where}: ${value}, ${interval}</p>`)}
			<p class="small soft">Light: what was assumed before; dark: 90 % interval now.</p>
		</div>`
		}
	</section>`;
}

function state() {
	if (fitWords.value) return fitWords.value;
	const now = fitted.value;
	if (!now) return '';
	return `from ${now.plays} ${now.plays === 1 ? 'shot' : 'shots'}, ${now.readings} measurements`;
}

/** @param {number} number of the play in the file */
function showNumber(number) {
	const index = record.value?.plays.findIndex((play) => play.number === number) ?? -1;
	if (index >= 0) showPlay(index);
}

/** @param {{ row: Row }} props */
function Coefficient({ row }) {
	const unit = row.unit ? ` ${row.unit}` : '';
	return html`<li data-told=${row.told ? '' : undefined} title=${row.meaning}>
		<span>${row.name}</span>
		<${Bar} row=${row} />
		<span class="gauge-value">${row.told ? `${row.value}${unit}` : 'not told yet'}</span>
		<span class="small soft gauge-interval">${row.told ? row.interval : `assumed ${row.before}`}${row.told ? '' : unit}</span>
	</li>`;
}

/** The interval assumed before, light, and the one now, dark. @param {{ row: Row }} props */
function Bar({ row }) {
	const place = (/** @type {number} */ at) =>
		(50 * (Math.min(Math.max(at, -REACH), REACH) + REACH)) / REACH;
	const band = (
		/** @type {[number, number]} */ [low, high],
		/** @type {string} */ name,
		/** @type {number} */ inset,
	) =>
		html`<rect class=${name} x=${place(low)} y=${inset} width=${Math.max(place(high) - place(low), 0.8)} height=${HIGH - 2 * inset} />`;
	return html`<svg class="gauge-bar" viewBox=${`0 0 100 ${HIGH}`} preserveAspectRatio="none" aria-hidden="true">
		${band(row.prior, 'gauge-prior', 0)}${band(row.now, 'gauge-now', 3)}
	</svg>`;
}
