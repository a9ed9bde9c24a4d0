// @ts-check
// Files in the page's head: the position's name and whether it is saved; and what opens beside.

import { html } from '../lib/view.js';
import { startAutosave, unsaved } from './files/autosave.js';
import { bringAddress, dropping, startBringing } from './files/bring.js';
import { HelpPage, startFileKeys } from './files/help.js';
import { Library } from './files/library.js';
import { make, PrintPage } from './files/print.js';
import { sidePage, toggle } from './files/side_page.js';
import { change, classView, documentNow, file, saving } from './state.js';

/** Title, typed where it stands, and whether it is saved. */
export function FileTitle() {
	const title = documentNow.value?.title ?? '';
	const name = (/** @type {Event} */ event) => {
		const words = /** @type {HTMLInputElement} */ (event.target).value.trim();
		if (words === title) return;
		change('name the position', (position) => {
			position.title = words || 'Untitled';
		});
	};
	return html`<div class="file-title">
		<input value=${title} aria-label="Title of the position" onChange=${name} spellcheck="false" />
		<span class="soft small file-state" title=${unsaved.value}>${file.value.name ?? 'new'} · ${stateWords()}</span>
	</div>`;
}

function stateWords() {
	if (saving.value === 'failed') return `not saved: ${unsaved.value}`;
	if (saving.value !== 'saved') return 'saving';
	return file.value.shipped ? 'comes with stunline' : 'saved';
}

/** The head's entries for files. */
export function FilesMenu() {
	const entry = (/** @type {'library' | 'print' | 'help'} */ name, /** @type {string} */ words) =>
		html`<button aria-expanded=${sidePage.value === name} onClick=${() => toggle(name)}>${words}</button>`;
	return html`
		${entry('library', 'Open')}
		<button onClick=${() => make('sheet', 'Practice sheet')}>Sheet</button>
		<button class="wide-only" onClick=${() => make('fullsize', 'Full-size pages')}>Full size</button>
		${entry('print', 'Export')}
		<button onClick=${() => (classView.value = true)}>Class view</button>
		${entry('help', 'Keys')}
	`;
}

/** What is open beside the work. */
export function FilesDialog() {
	if (dropping.value)
		return html`<p class="drop-here large">Drop the position here: it becomes a new one.</p>`;
	if (sidePage.value === 'library') return html`<${Library} />`;
	if (sidePage.value === 'print') return html`<${PrintPage} />`;
	if (sidePage.value === 'help') return html`<${HelpPage} />`;
	return null;
}

/** Saving, dropping, pasting and keys, once the first position is there. */
export function startFiles() {
	startAutosave();
	startBringing();
	startFileKeys();
	bringAddress();
}
