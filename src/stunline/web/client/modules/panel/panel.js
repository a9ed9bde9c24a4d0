// @ts-check
// The strike beside the plan: the white's face, the arrival, the sentence, the read-outs.

import { html } from '../../lib/view.js';
import { sentenceOf } from '../api.js';
import { answer, eventShown, fault } from '../state.js';

export function Panel() {
	const shot = answer.value;
	if (fault.value) return html`<p role="alert">${sentenceOf(fault.value)}</p>`;
	if (!shot) return html`<p>The shot is being prepared.</p>`;
	return html`
		<p>${shot.sentence}</p>
		<dl>${shot.rows.map(([name, value]) => html`<div><dt class="soft small">${name}</dt><dd>${value}</dd></div>`)}</dl>
		<ol>${shot.events.map(
			(event) => html`<li
				onMouseEnter=${() => (eventShown.value = event)}
				onMouseLeave=${() => (eventShown.value = null)}
			>${event.time.toFixed(2)} s ${event.words}</li>`,
		)}</ol>
	`;
}
