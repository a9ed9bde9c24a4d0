// @ts-check
// The library: every position with its picture; searched, opened, renamed, doubled, deleted.

import { html, useEffect, useRef, useSignal } from '../../lib/view.js';
import * as api from '../api.js';
import { file, notice, theme } from '../state.js';
import { openNamed } from './autosave.js';
import { bringFile, bringText, refused } from './bring.js';
import { close, SidePage } from './side_page.js';

const SEARCHED_AFTER = 150; // of quiet [ms]

/**
 * @typedef {{ name: string, title: string, table: string, changed: string | null, revision: string,
 *   shipped: boolean, fault: string | null }} Listed
 */

export function Library() {
	const listed = useSignal(/** @type {Listed[] | null} */ (null));
	const leftOut = useSignal(/** @type {{ file: string, why: string }[]} */ ([]));
	const folder = useSignal('');
	const search = useRef('');
	const load = async () => {
		const found = await api.positions(search.current).catch(said);
		if (!found) return;
		listed.value = found.positions;
		leftOut.value = found.left_out;
		folder.value = found.folder;
	};
	useEffect(() => {
		load();
	}, []);
	return html`<${SidePage} title="Positions" kind="library">
		<${Search} onSearch=${(/** @type {string} */ words) => {
			search.current = words;
			load();
		}} />
		${listed.value?.length === 0 && html`<p class="soft">No position has these words in its name or title.</p>`}
		<ul class="shelf">${listed.value?.map((one) => html`<${Entry} key=${one.name} one=${one} reload=${load} />`)}</ul>
		<${Bring} />
		${leftOut.value.map((one) => html`<p class="small soft" key=${one.file}>${one.file} is not shown: ${one.why}.</p>`)}
		<p class="small soft">Kept in ${folder.value}</p>
	</${SidePage}>`;
}

/** @param {Error} error */
function said(error) {
	notice.value = { words: error.message };
}

/** @param {{ onSearch: (words: string) => void }} props */
function Search({ onSearch }) {
	const timer = useRef(0);
	const typed = (/** @type {Event} */ event) => {
		const words = /** @type {HTMLInputElement} */ (event.target).value;
		clearTimeout(timer.current);
		timer.current = setTimeout(() => onSearch(words), SEARCHED_AFTER);
	};
	return html`<input class="search" type="search" placeholder="Search" aria-label="Search names and titles" onInput=${typed} />`;
}

/** @param {{ one: Listed, reload: () => Promise<void> }} props */
function Entry({ one, reload }) {
	const renaming = useSignal(false);
	const open = () => {
		close();
		openNamed(one.name);
	};
	const current = file.value.name === one.name;
	return html`<li aria-current=${current ? 'true' : undefined}>
		<button class="entry" onClick=${open}>
			<img src=${`${api.thumbnail(one.name, theme.value)}&revision=${one.revision}`} alt="" loading="lazy" />
			<span class="entry-words"><strong>${one.title || one.name}</strong>
			<span class="small soft">${one.fault ?? `${one.table} · ${whenWords(one)}`}</span></span>
		</button>
		${
			renaming.value
				? html`<${Rename} one=${one} done=${() => (renaming.value = false)} reload=${reload} />`
				: html`<${EntryActions} one=${one} rename=${() => (renaming.value = true)} reload=${reload} />`
		}
	</li>`;
}

/** @param {Listed} one */
function whenWords(one) {
	if (one.shipped || !one.changed) return 'comes with stunline';
	return new Date(one.changed).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' });
}

/** @param {{ one: Listed, rename: () => void, reload: () => Promise<void> }} props */
function EntryActions({ one, rename, reload }) {
	const title = one.title || one.name;
	const duplicate = () => api.duplicate(one.name).then(reload, said);
	return html`<span class="entry-actions small">
		${!one.shipped && html`<button aria-label=${`Rename ${title}`} onClick=${rename}>Rename</button>`}
		<button aria-label=${`Duplicate ${title}`} onClick=${duplicate}>Duplicate</button>
		${!one.shipped && html`<button aria-label=${`Delete ${title}`} onClick=${() => removeOne(one, reload)}>Delete</button>`}
	</span>`;
}

/** @param {Listed} one @param {() => Promise<void>} reload */
async function removeOne(one, reload) {
	const undo = await api.removePosition(one.name).catch(said);
	await reload();
	if (!undo) return;
	if (file.value.name === one.name) file.value = { ...file.value, revision: null };
	notice.value = {
		words: `“${one.title || one.name}” is deleted.`,
		undo: async () => {
			const back = await api.undoRemoval(undo.undo).catch(said);
			if (back && file.value.name === one.name)
				file.value = { ...file.value, revision: back.revision };
			notice.value = null;
			await reload();
		},
	};
}

/** @param {{ one: Listed, done: () => void, reload: () => Promise<void> }} props */
function Rename({ one, done, reload }) {
	const field = useRef(/** @type {HTMLInputElement | null} */ (null));
	useEffect(() => field.current?.select(), []);
	const take = async () => {
		const to = field.current?.value.trim() ?? '';
		const renamed = to && to !== one.name ? await api.rename(one.name, to).catch(said) : null;
		if (renamed && file.value.name === one.name) {
			file.value = { name: renamed.name, revision: renamed.revision, shipped: false };
		}
		// The new list first: until it is here, the row's other buttons would name the old file.
		await reload();
		done();
	};
	const onKey = (/** @type {KeyboardEvent} */ event) => {
		if (event.key === 'Enter') take();
		if (event.key !== 'Escape') return;
		event.stopPropagation();
		done();
	};
	return html`<span class="entry-actions small"><input ref=${field} value=${one.name}
		aria-label=${`New name of ${one.title || one.name}`} onKeyDown=${onKey} />
		<button onClick=${take}>Rename</button><button onClick=${done}>Cancel</button></span>`;
}

/** What comes from elsewhere. */
function Bring() {
	const paste = (/** @type {Event} */ event) => {
		const field = /** @type {HTMLInputElement} */ (event.target);
		const text = field.value;
		field.value = '';
		if (text.trim()) bringText(text).then(close, refused);
	};
	const choose = (/** @type {Event} */ event) => {
		const field = /** @type {HTMLInputElement} */ (event.target);
		bringFile(field.files?.[0]).then(close);
	};
	return html`<div class="bring">
		<label class="choose-file"><input class="only-spoken" type="file" accept=".toml,text/plain" onChange=${choose} /><span>Bring in a file</span></label>
		<label>or paste a link <input aria-label="A link that holds a position" onChange=${paste} /></label>
		<span class="small soft">A file can also be dropped anywhere on the page.</span>
	</div>`;
}
