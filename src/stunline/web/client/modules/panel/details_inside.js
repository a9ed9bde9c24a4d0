// @ts-check
// What belongs to the position beside balls and strike: table, cloth, a note.

import { html } from '../../lib/view.js';
import { tableNow, tables } from '../equipment.js';
import { enterGauging } from '../gauge.js';
import { change, documentNow } from '../state.js';
import { Choice } from './aim.js';

const UNITS = [
	['mm', 'in millimetres'],
	['in', 'in inches'],
];

export function DetailsInside() {
	const position = documentNow.value ?? {};
	const known = tables.value.map((table) => [table.name, table.title]);
	const cloths = tableNow.value?.cloths ?? [];
	return html`<div class="details-fields">
			<label><span>table</span><${Choice} label="Table" value=${position.table}
				options=${known.length ? known : [[position.table, position.table]]} onChoose=${setTable} /></label>
			<label><span>cloth</span><${Choice} label="Cloth" value=${position.cloth ?? cloths[0]?.name ?? ''}
				options=${cloths.map((one) => [one.name, one.title])} onChoose=${setCloth} /></label>
			<label><span>lengths</span><${Choice} label="Lengths shown in" value=${position.units ?? 'mm'}
				options=${UNITS} onChoose=${setUnits} /></label>
			<label class="note-field"><span>note</span><textarea rows="3" aria-label="Note"
				value=${position.note ?? ''} onChange=${setNote}></textarea></label>
		</div>
		<button class="small" onClick=${enterGauging}>Gauge this table</button>`;
}

/** @param {string} name */
function setTable(name) {
	change('change the table', (position) => {
		position.table = name;
		delete position.cloth; // another table has other cloths
	});
}

/** @param {string} name */
function setCloth(name) {
	change('change the cloth', (position) => {
		position.cloth = name;
	});
}

/** @param {string} name */
function setUnits(name) {
	change('show lengths otherwise', (position) => {
		position.units = name;
	});
}

/** @param {Event} event */
function setNote(event) {
	const words = /** @type {HTMLTextAreaElement} */ (event.target).value;
	change('write the note', (position) => {
		if (words.trim()) position.note = words;
		else delete position.note;
	});
}
