// @ts-check
// Files: the library's list, saving by itself, export, and the page for a class.

import { effect, html, signal } from '../lib/view.js';
import * as api from './api.js';
import { classView, documentNow, file, notice, openDocument, saving, theme } from './state.js';

const SAVED_AFTER = 600; // a change is saved so long after the last one [ms]
const FIRST_NAME = 'position'; // of a position that stands nowhere yet
const WORDS = { saved: 'saved', saving: 'saving', changed: 'changed', failed: 'not saved' };

const listShown = signal(false);
const listed = signal(/** @type {any[]} */ ([]));
const search = signal('');
const busy = signal('');

/** The head's entries for files. */
export function FilesMenu() {
	return html`
		<button aria-expanded=${listShown.value} aria-controls="library" onClick=${toggleList}>Open</button>
		<button disabled=${busy.value !== ''} onClick=${() => print('sheet')}>Sheet</button>
		<button disabled=${busy.value !== ''} onClick=${() => print('fullsize')}>Full size</button>
		<button disabled=${busy.value !== ''} onClick=${() => print('svg')}>Picture</button>
		<button onClick=${() => (classView.value = true)}>Class view</button>
		<span class="soft small file-state" role="status">${busy.value || stateWords()}</span>
	`;
}

function stateWords() {
	const { name, shipped } = file.value;
	if (name === null) return 'not in the library';
	if (shipped && saving.value === 'saved') return `${name} · comes with stunline`;
	return `${name} · ${WORDS[saving.value]}`;
}

function toggleList() {
	listShown.value = !listShown.value;
	if (listShown.value) fillList();
}

async function fillList() {
	try {
		listed.value = (await api.positions(search.value)).positions;
	} catch (error) {
		tell(error);
	}
}

/** The library, when it is open. */
export function FilesDialog() {
	if (!listShown.value) return null;
	return html`
		<section id="library" class="library" aria-label="Library">
			<p class="library-head">
				<label>Search <input type="search" value=${search.value} onInput=${searched} /></label>
				<button onClick=${() => (listShown.value = false)}>Close</button>
			</p>
			<ul>${listed.value.map(entry)}</ul>
		</section>
	`;
}

/** @param {Event} event */
function searched(event) {
	search.value = /** @type {HTMLInputElement} */ (event.target).value;
	fillList();
}

/** @param {any} one */
function entry(one) {
	const here = one.name === file.value.name;
	return html`
		<li key=${one.name} aria-current=${here ? 'true' : undefined}>
			<button class="library-open" onClick=${() => open(one.name)}>
				<img src=${api.thumbnail(one.name, theme.value)} alt="" loading="lazy" />
				<span>${one.title || one.name}</span>
				<span class="soft small">${one.name}${one.shipped ? ' · comes with stunline' : ''}</span>
			</button>
			<span class="library-acts">
				<button class="small" onClick=${() => copy(one.name)}>Duplicate</button>
				${
					one.shipped
						? null
						: html`<button class="small" onClick=${() => discard(one.name)}>Delete</button>`
				}
			</span>
		</li>
	`;
}

/** @param {string} name */
async function open(name) {
	try {
		const found = await api.position(name);
		if (!found.document) throw new Error(api.sentenceOf(found.fault));
		openDocument(found.document, {
			name: found.name,
			revision: found.revision,
			shipped: found.shipped,
		});
		listShown.value = false;
	} catch (error) {
		tell(error);
	}
}

/** @param {string} name */
async function copy(name) {
	try {
		const made = await api.duplicate(name);
		notice.value = { words: `Copied as ${made.name}.` };
		await fillList();
	} catch (error) {
		tell(error);
	}
}

/** @param {string} name */
async function discard(name) {
	try {
		const { undo } = await api.removePosition(name);
		notice.value = { words: `${name} deleted.`, undo: () => bringBack(undo) };
		if (name === file.value.name) file.value = { name: null, revision: null, shipped: false };
		await fillList();
	} catch (error) {
		tell(error);
	}
}

/** @param {string} token */
async function bringBack(token) {
	try {
		await api.undoRemoval(token);
		await fillList();
	} catch (error) {
		tell(error);
	}
}

/** @param {'sheet' | 'fullsize' | 'svg'} kind */
async function print(kind) {
	const document = documentNow.value;
	if (!document) return;
	busy.value = kind === 'svg' ? 'drawing' : 'setting the pages';
	try {
		const made = await api.fetchFile('/api/export', { document, kind });
		download(made, `${file.value.name ?? FIRST_NAME}${ENDINGS[kind]}`);
	} catch (error) {
		tell(error);
	} finally {
		busy.value = '';
	}
}

const ENDINGS = { sheet: '-sheet.pdf', fullsize: '-full-size.pdf', svg: '.svg' };

/** @param {Blob} content @param {string} name */
function download(content, name) {
	const link = document.createElement('a');
	link.href = URL.createObjectURL(content);
	link.download = name;
	link.click();
	setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

/** @param {unknown} error */
function tell(error) {
	notice.value = { words: /** @type {Error} */ (error).message };
}

/** Saves whatever changes, a moment after it has changed. */
export function startSaving() {
	let timer = 0;
	effect(() => {
		void documentNow.value;
		if (saving.value !== 'changed') return;
		clearTimeout(timer);
		timer = setTimeout(save, SAVED_AFTER);
	});
}

async function save() {
	const document = documentNow.value;
	if (!document) return;
	const { name, revision, shipped } = file.value;
	saving.value = 'saving';
	try {
		const kept = await api.save(name ?? FIRST_NAME, document, shipped ? null : revision);
		file.value = { name: kept.name, revision: kept.revision, shipped: false };
		saving.value = documentNow.value === document ? 'saved' : 'changed';
	} catch (error) {
		await unsaved(error, document);
	}
}

/**
 * A conflict keeps both versions; anything else is told and tried again with the next change.
 * @param {unknown} error @param {unknown} document
 */
async function unsaved(error, document) {
	if (error instanceof api.ServerError && error.status === 409 && error.body?.mine) {
		const mine = error.body.mine;
		file.value = { name: mine.name ?? mine, revision: mine.revision ?? null, shipped: false };
		saving.value = documentNow.value === document ? 'saved' : 'changed';
	} else {
		saving.value = 'failed';
	}
	tell(error);
}

