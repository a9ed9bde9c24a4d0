// @ts-check
// Files: the library's list, saving, export, import.

import { html } from '../lib/view.js';
import { file, saving } from './state.js';

/** The head's entries for files. */
export function FilesMenu() {
	return html`<span class="soft small">${file.value.name ?? 'not in the library'} · ${saving.value}</span>`;
}

/** The library, when it is open. */
export function FilesDialog() {
	return null;
}
