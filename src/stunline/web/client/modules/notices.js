// @ts-check
// Sentences that pass: what was done, what is wrong, what the engine does meanwhile.

import { html } from '../lib/view.js';
import { connected, engine, notice } from './state.js';

/** What the page has to say beside the shot itself. */
export function Notices() {
	const said = notice.value;
	return html`
		<div class="notices" role="status" aria-live="polite">
			${!connected.value && html`<p>The server does not answer; trying again. If it was stopped, start it with: stunline open.</p>`}
			${engine.value && html`<p>${engine.value.words}</p>`}
			${
				said &&
				html`<p>
					${said.words}
					${said.undo && html`<button onClick=${said.undo}>${said.label ?? 'Undo'}</button>`}
					<button onClick=${() => (notice.value = null)} aria-label="Close this message">Close</button>
				</p>`
			}
		</div>
	`;
}
