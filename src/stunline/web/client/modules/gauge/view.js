// @ts-check
// Gauging a table: a record is chosen or started, then filled in, one shot at a time.

import { html, useEffect } from '../../lib/view.js';
import { gaugeAt, leaveGauging } from '../gauge.js';
import { dress } from '../panel/fold.js';
import { followRecord } from './fit.js';
import { GaugePlan } from './plan.js';
import { closeRecord, openFromAddress, record, savedWords } from './record.js';
import { Results } from './results.js';
import { ShotGuide } from './shot.js';
import { Start } from './start.js';

export const dressed = () => dress('gauge.css');

/** Keys of the position that would change it unseen. */
const OTHERS = ['z', 'y', 's', 'o'];

export function GaugeView() {
	useEffect(() => {
		openFromAddress(gaugeAt.value ?? '');
	}, [gaugeAt.value]);
	useEffect(() => {
		const hold = (/** @type {KeyboardEvent} */ event) => {
			const isOthers = (event.ctrlKey || event.metaKey) && OTHERS.includes(event.key.toLowerCase());
			const isTyping = event.target instanceof HTMLInputElement;
			if ((isOthers && !isTyping) || (event.key === '?' && !isTyping)) event.stopPropagation();
			if (isOthers && event.key.toLowerCase() === 's') event.preventDefault(); // it saves by itself
		};
		addEventListener('keydown', hold, true);
		const stop = followRecord();
		return () => {
			removeEventListener('keydown', hold, true);
			stop();
		};
	}, []);
	const now = record.value;
	return html`<main class="gauge" aria-label="Gauge a table">
		<header class="gauge-head">
			<h1 class="large">${now ? now.title || now.table.title : 'Gauge a table'}</h1>
			${now && html`<span class="soft small gauge-file" role="status">${now.name} · ${savedWords.value}</span>`}
			<nav aria-label="Gauging">
				${now && html`<button onClick=${closeRecord}>Records</button>`}
				<button onClick=${leaveGauging}>Back to the position</button>
			</nav>
		</header>
		${now ? html`<${Work} />` : html`<${Start} />`}
	</main>`;
}

const Work = () => html`<div class="gauge-work">
	<${GaugePlan} />
	<${ShotGuide} />
	<${Results} />
</div>`;
