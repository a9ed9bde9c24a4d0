// @ts-check
// The keys, and how the page is laid out.

import { html } from '../../lib/view.js';
import { isTyping } from '../keys.js';
import { hand, themeChoice } from '../state.js';
import { saveNow } from './autosave.js';
import { SidePage, toggle } from './side_page.js';

const KEYS = [
	['Tab', 'to the next ball, control or button'],
	['Arrow keys', 'on a ball 1 mm, on the face 0.5 mm, on the strip 0.02 m/s'],
	['Shift + arrow keys', 'larger steps: 10 mm, 2 mm, 0.1 m/s'],
	['Page up, page down', 'on the strip: the middle of the next band'],
	['+ and −', 'on the plan: nearer, further'],
	['Ctrl + Z, Ctrl + Y', 'undo, redo'],
	['Ctrl + S', 'save now; it also saves by itself'],
	['Ctrl + O', 'the positions'],
	['Escape', 'closes what is open, puts a number back'],
	['?', 'these keys'],
];

export function HelpPage() {
	return html`<${SidePage} title="Keys and layout" kind="help">
		<div class="layout-choices">
			<${OneOf} label="Colours" value=${themeChoice} choices=${[['system', 'As the system'], ['light', 'Light'], ['dark', 'Dark']]} />
			<${OneOf} label="Strike stands" value=${hand} choices=${[['right', 'On the right'], ['left', 'On the left, for the left hand']]} />
		</div>
		<dl class="keys">${KEYS.map(([key, does]) => html`<div><dt>${key}</dt><dd>${does}</dd></div>`)}</dl>
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
