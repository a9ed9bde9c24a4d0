// @ts-check
// What the whole record rests on: its name, the cloth that comes nearest, the ramp.

import { html } from '../../lib/view.js';
import { tables } from '../equipment.js';
import { Choice } from '../panel/aim.js';
import { record, saveHead } from './record.js';

export function RecordHead() {
	const now = record.value;
	if (!now) return null;
	const cloths = tables.value.find((one) => one.name === now.table.name)?.cloths ?? [];
	const take = (/** @type {'title' | 'gap'} */ key) => (/** @type {Event} */ event) =>
		saveHead({ [key]: /** @type {HTMLInputElement} */ (event.target).value });
	return html`<details class="gauge-record-head" open=${now.faults.length > 0}>
		<summary>${now.table.title}, ${now.cloth} cloth, ${Number(now.gap) === 0 ? 'flat ramp' : `groove of ${now.gap} mm`}</summary>
		<div class="details-fields">
			<label><span>called</span><input value=${now.title} aria-label="What the record is called" onChange=${take('title')} /></label>
			<label><span>cloth</span><${Choice} label="Cloth that comes nearest" value=${now.cloth}
				options=${cloths.length > 0 ? cloths.map((one) => [one.name, one.title]) : [[now.cloth, now.cloth]]}
				onChoose=${(/** @type {string} */ cloth) => saveHead({ cloth })} /></label>
			<label><span>ramp</span><span class="gauge-gap"><input inputmode="decimal" value=${now.gap} onChange=${take('gap')}
				aria-label="Clear width between the ramp’s rails, in millimetres; 0 for a flat chute" /> mm between its rails, 0: flat</span></label>
		</div>
		${now.faults.map((one) => html`<p class="small note" role="alert" key=${one.what}>${one.what} (${one.given}). Allowed: ${one.allowed}. Try: ${one.remedy}.</p>`)}
	</details>`;
}
