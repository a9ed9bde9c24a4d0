// @ts-check
// Where the white can go: searched, hatched on the plan, and the strike of a place that is pointed at.

import { html, useEffect } from '../../lib/view.js';
import { nearCushion } from '../equipment.js';
import { lengthWords } from '../lengths.js';
import { Progress } from '../maps/progress.js';
import { canPoint, isShown, place, pointAt, study, takePlace } from '../maps/reached.js';
import { below, under } from '../plan/extras.js';
import { PlaceMark, ReachLayer } from '../plan/reach_layer.js';
import { TypedLength } from './length.js';
import { written } from './number.js';
import { Thumbnail } from './thumbnail.js';

/** @typedef {import('../maps/reached.js').Place} Place */

const THERE = 20; // a place that is reached this near to the one pointed at is that place [mm]

under.value = [...under.value, ReachLayer];
below.value = [...below.value, PlaceMark];

export function WhereItCanGo() {
	useEffect(() => {
		isShown.value = true;
		return () => (isShown.value = false);
	}, []);
	return html`<p class="small soft">Everywhere that the white can come to rest when the shot is made, each place by
			its least demanding strike. How far pace and height may vary is the goal’s.</p>
		<${Progress} study=${study} begin="Search the table" label="How much is searched" />
		<${Found} />`;
}

function Found() {
	const told = study.told.value;
	if (!told || !study.isCurrent.value) return null;
	if (told.shares.length === 0) {
		return study.isRunning.value
			? null
			: html`<p class="sentence">No strike of these makes the shot and leaves the white on the table.</p>`;
	}
	return html`<ul class="reach-shares" aria-label="By which stroke, of the whole table">${told.shares.map(
		([kind, share]) => html`<li><${Sample} kind=${kind} /> ${kind} <b>${share}</b></li>`,
	)}</ul>
		<p class="small soft">Of the table. The closer the lines, the more it asks; within the chain line it can pass over.</p>
		${canPoint.value && html`<${Pointing} />`}`;
}

/** How a kind is hatched. @param {{ kind: string }} props */
function Sample({ kind }) {
	const lines = {
		follow: 'M0 12L12 0M8 12L20 0M16 12L28 0',
		stun: 'M0 2H28M0 6H28M0 10H28',
		screw: 'M0 0L12 12M8 0L20 12M16 0L28 12',
		side: 'M4 0V12M10 0V12M16 0V12M22 0V12',
	};
	return html`<svg class="reach-sample" viewBox="0 0 28 12" aria-hidden="true"><path d=${lines[/** @type {'follow'} */ (kind)]} /></svg>`;
}

function Pointing() {
	const now = place.value;
	const [across, up] = now?.asked ?? [null, null];
	return html`<p class="small">Click a place on the plan, or type it:</p>
		<div class="reach-at" role="group" aria-label="Place to go to">
			<span class="soft small">from left</span>
			<${TypedLength} label="Place to go to, from left" value=${across} step=${10} onSet=${(/** @type {number} */ mm) => pointAt([mm, up ?? 0])} />
			<span class="soft small">from ${nearCushion.value}</span>
			<${TypedLength} label=${`Place to go to, from ${nearCushion.value}`} value=${up} step=${10} onSet=${(/** @type {number} */ mm) => pointAt([across ?? 0, mm])} />
		</div>
		${now && html`<${Strike} place=${now} />`}`;
}

/** The strike to a place, to be taken. @param {{ place: Place }} props */
function Strike({ place: one }) {
	const { strike, kind, away } = one;
	return html`<p class="small" role="status">${
		away <= THERE
			? 'The white comes to rest there.'
			: `No strike found leaves the white there. The nearest place is ${lengthWords(away)} away.`
	}</p>
	<button class="option-row reach-strike" onClick=${() => takePlace(one)}>
		<span class="option-letter"><span class="only-spoken">Take </span>X</span>
		<${Thumbnail} height=${strike.height} side=${strike.side} />
		<span class="option-words"><b>${kind}</b><span>${strikeWords(strike)}</span></span>
	</button>`;
}

/** @param {Place['strike']} strike */
export function strikeWords({ pace, height, side, elevation }) {
	const where = height >= 0 ? 'above' : 'below';
	const parts = [`${written(pace, 2)} m/s`, `${lengthWords(Math.abs(height), 1)} ${where} centre`];
	if (side) parts.push(`side ${lengthWords(Math.abs(side), 1)} ${side > 0 ? 'right' : 'left'}`);
	if (elevation) parts.push(`butt raised ${written(elevation, 0)}°`);
	return parts.join(', ');
}
