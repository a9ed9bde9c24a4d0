// @ts-check
// The gauged table as a file of the library, which a position can then be played on.

import { html, useSignal } from '../../lib/view.js';
import { learnTables } from '../equipment.js';
import { leaveGauging } from '../gauge.js';
import { change, notice } from '../state.js';
import { fitWords, writeTable, writing } from './fit.js';
import { record } from './record.js';

export function WriteTable() {
	const name = useSignal(`${record.value?.name ?? 'table'}-gauged`);
	const written = useSignal('');
	const wrong = useSignal('');
	const write = async (/** @type {Event} */ event) => {
		event.preventDefault();
		wrong.value = written.value = '';
		try {
			written.value = await writeTable(name.value.trim());
			await learnTables();
		} catch (error) {
			wrong.value = /** @type {Error} */ (error).message;
			fitWords.value = '';
		}
	};
	const typed = (/** @type {Event} */ event) => {
		name.value = /** @type {HTMLInputElement} */ (event.target).value;
	};
	return html`<section>
		<h2>The gauged table</h2>
		<form class="gauge-write" onSubmit=${write}>
			<input aria-label="Name of the table file" value=${name.value} onInput=${typed} spellcheck="false" />
			<button type="submit" disabled=${writing.value || !name.value.trim()}>Write the table</button>
		</form>
		${wrong.value && html`<p class="small note" role="alert">${wrong.value}</p>`}
		${
			written.value &&
			html`<p class="small" role="status">${written.value} stands in the library.
			<button class="small" onClick=${() => playOn(written.value)}>Play the position on it</button></p>`
		}
	</section>`;
}

/** @param {string} file */
function playOn(file) {
	change('play on the gauged table', (position) => {
		position.table = file;
		delete position.cloth; // it has one cloth: the one that was gauged
	});
	leaveGauging();
	notice.value = { words: `The position is played on ${file} now.` };
}
