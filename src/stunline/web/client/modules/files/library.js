// @ts-check
// The library: every position with its picture; searched, opened, renamed, doubled, deleted.

import { html, signal, useEffect, useLayoutEffect, useRef, useSignal } from '../../lib/view.js';
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

/** Whose row takes the keyboard's focus next, after the row that had it was renamed or deleted. */
const nextFocus = signal(/** @type {string | null} */ (null));

export function Library() {
	const listed = useSignal(/** @type {Listed[] | null} */ (null));
	const leftOut = useSignal(/** @type {{ file: string, why: string }[]} */ ([]));
	const folder = useSignal('');
	const search = useRef('');
	const load = async () => {
		const found = await api.positions(search.current).catch(said);
		if (!found) return [];
		listed.value = found.positions;
		leftOut.value = found.left_out;
		folder.value = found.folder;
		return found.positions;
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
		<ul class="shelf">${listed.value?.map((one, index) => html`<${Entry} key=${one.name} one=${one} index=${index} reload=${load} />`)}</ul>
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

/** @typedef {() => Promise<Listed[]>} Reload asks for the list again */

/** @param {{ one: Listed, index: number, reload: Reload }} props */
function Entry({ one, index, reload }) {
	const renaming = useSignal(false);
	const row = useRef(/** @type {HTMLLIElement | null} */ (null));
	const takesFocus = nextFocus.value === one.name && !renaming.value;
	useLayoutEffect(() => {
		if (!takesFocus) return;
		nextFocus.value = null;
		row.current?.querySelector('button')?.focus();
	}, [takesFocus]);
	/** @param {string | null} name whose row goes on; null: a search hides it */
	const stop = (name) => {
		renaming.value = false;
		nextFocus.value = name;
		if (name === null) row.current?.closest('.library')?.querySelector('input')?.focus();
	};
	const open = () => {
		close();
		openNamed(one.name);
	};
	const current = file.value.name === one.name;
	return html`<li ref=${row} aria-current=${current ? 'true' : undefined}>
		<button class="entry" onClick=${open}>
			<img src=${`${api.thumbnail(one.name, theme.value)}&revision=${one.revision}`} alt="" loading="lazy" />
			<span class="entry-words"><strong>${one.title || one.name}</strong>
			<span class="small soft">${one.fault ?? `${one.table} · ${whenWords(one)}`}</span></span>
		</button>
		${
			renaming.value
				? html`<${Rename} one=${one} done=${stop} reload=${reload} />`
				: html`<${EntryActions} one=${one} index=${index} rename=${() => (renaming.value = true)} reload=${reload} />`
		}
	</li>`;
}

/** @param {Listed} one */
function whenWords(one) {
	if (one.shipped || !one.changed) return 'comes with stunline';
	return new Date(one.changed).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' });
}

/** @param {{ one: Listed, index: number, rename: () => void, reload: Reload }} props */
function EntryActions({ one, index, rename, reload }) {
	const title = one.title || one.name;
	const duplicate = () => api.duplicate(one.name).then(reload, said);
	return html`<span class="entry-actions small">
		${!one.shipped && html`<button aria-label=${`Rename ${title}`} onClick=${rename}>Rename</button>`}
		<button aria-label=${`Duplicate ${title}`} onClick=${duplicate}>Duplicate</button>
		${!one.shipped && html`<button aria-label=${`Delete ${title}`} onClick=${() => removeOne(one, index, reload)}>Delete</button>`}
	</span>`;
}

/** @param {Listed} one @param {number} index @param {Reload} reload */
async function removeOne(one, index, reload) {
	const undo = await api.removePosition(one.name).catch(said);
	const left = await reload();
	const same = left.find((other) => other.name === one.name); // a shipped one comes back
	nextFocus.value = (same ?? left[index] ?? left.at(-1))?.name ?? null;
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

/** @param {{ one: Listed, done: (name: string | null) => void, reload: Reload }} props */
function Rename({ one, done, reload }) {
	const field = useRef(/** @type {HTMLInputElement | null} */ (null));
	useLayoutEffect(() => {
		field.current?.focus();
		field.current?.select();
	}, []);
	const take = async () => {
		const to = field.current?.value.trim() ?? '';
		if (!to || to === one.name) {
			done(one.name);
			return;
		}
		const renamed = await api.rename(one.name, to).catch(said);
		if (!renamed) return; // the name stays in the field, to be mended
		if (file.value.name === one.name) {
			file.value = { name: renamed.name, revision: renamed.revision, shipped: false };
		}
		// The new list first: until it is here, the row's other buttons would name the old file.
		const listed = await reload();
		done(listed.some((other) => other.name === renamed.name) ? renamed.name : null);
	};
	const onKey = (/** @type {KeyboardEvent} */ event) => {
		if (event.key === 'Enter') take();
		if (event.key !== 'Escape') return;
		event.stopPropagation();
		done(one.name);
	};
	return html`<span class="entry-actions small"><input ref=${field} value=${one.name}
		aria-label=${`New name of ${one.title || one.name}`} onKeyDown=${onKey} />
		<button onClick=${take}>Rename</button><button onClick=${() => done(one.name)}>Cancel</button></span>`;
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
