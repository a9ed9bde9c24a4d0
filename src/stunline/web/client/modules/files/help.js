// @ts-check
// The keys, and how the page is laid out.

import { html } from '../../lib/view.js';
import { isTyping } from '../keys.js';
import { hand, themeChoice } from '../state.js';
import { saveNow } from './autosave.js';
import { KEYS } from './key_list.js';
import { SidePage, toggle } from './side_page.js';

export function HelpPage() {
	return html`<${SidePage} title="Keys and layout" kind="help">
		<div class="layout-choices">
			<${OneOf} label="Colours" value=${themeChoice} choices=${[['system', 'As the system'], ['light', 'Light'], ['dark', 'Dark']]} />
			<${OneOf} label="Strike stands" value=${hand} choices=${[['right', 'On the right'], ['left', 'On the left']]} />
		</div>
		${KEYS.map(
			([where, keys]) => html`<h3 class="soft small">${where}</h3>
			<dl class="keys">${keys.map(([key, does]) => html`<div><dt>${key}</dt><dd>${does}</dd></div>`)}</dl>`,
		)}
	</${SidePage}>`;
}

/** @param {{ label: string, value: import('../../lib/view.js').Signal<any>, choices: string[][] }} props */
function OneOf({ label, value, choices }) {
	return html`<div role="group" aria-label=${label}><span class="soft small">${label}</span>${choices.map(
		([key, words]) =>
			html`<button aria-pressed=${value.value === key} onClick=${() => (value.value = key)}>${words}</button>`,
	)}</div>`;
}

/** Keys for the files and for help, from anywhere but a field. */
export function startFileKeys() {
	addEventListener('keydown', (event) => {
		const letter = event.key.toLowerCase();
		if ((event.ctrlKey || event.metaKey) && letter === 's') saveNow();
		else if ((event.ctrlKey || event.metaKey) && letter === 'o') toggle('library');
		else if (event.key === '?' && !isTyping(event)) toggle('help');
		else return;
		event.preventDefault();
	});
}
