// @ts-check
// Saving by itself: a moment after the last change. What was changed elsewhere meanwhile is
// never written over: both are kept, and said.

import { effect, signal } from '../../lib/view.js';
import * as api from '../api.js';
import { documentNow, file, notice, openDocument, pinned, saving } from '../state.js';
import { openStored } from '../stored.js';

const SAVED_AFTER = 900; // of quiet [ms]
const AGAIN_AFTER = 4000; // when it failed [ms]
const LOOKED_EVERY = 10_000; // whether the file was changed elsewhere [ms]

/** Why the position is not saved, in words; "" while it is. */
export const unsaved = signal('');

let timer = 0;
let busy = false;

export function startAutosave() {
	effect(() => {
		if (!documentNow.value || saving.value !== 'changed') return;
		wait(SAVED_AFTER);
	});
	setInterval(lookElsewhere, LOOKED_EVERY);
	addEventListener('focus', lookElsewhere);
	addEventListener('pagehide', () => {
		if (saving.value === 'changed') saveNow();
	});
}

/** @param {number} milliseconds */
function wait(milliseconds) {
	clearTimeout(timer);
	timer = setTimeout(saveNow, milliseconds);
}

/** Saves the position as it is now; a change that comes meanwhile is saved after it. */
export async function saveNow() {
	clearTimeout(timer);
	const position = documentNow.value;
	if (!position || busy) {
		if (busy) wait(SAVED_AFTER);
		return;
	}
	busy = true;
	saving.value = 'saving';
	const place = file.value;
	try {
		const saved = await api.save(place.name ?? nameFrom(position.title), position, place.revision);
		took(saved, position, place);
	} catch (error) {
		failed(/** @type {Error} */ (error), position, place);
	} finally {
		busy = false;
	}
}

/**
 * @param {{ name: string, revision: string, note?: string }} saved
 * @param {import('../state.js').PositionDocument} position @param {import('../state.js').FileState} place
 */
function took(saved, position, place) {
	if (file.value !== place) return; // another position was opened meanwhile
	file.value = { name: saved.name, revision: saved.revision, shipped: false };
	unsaved.value = '';
	if (saved.note && place.name) notice.value = { words: saved.note };
	if (documentNow.value === position) saving.value = 'saved';
	else {
		saving.value = 'changed';
		wait(SAVED_AFTER);
	}
}

/**
 * @param {Error} error
 * @param {import('../state.js').PositionDocument} position @param {import('../state.js').FileState} place
 */
function failed(error, position, place) {
	if (error instanceof api.ServerError && error.status === 409 && error.body?.mine) {
		const { mine, theirs } = error.body;
		took(mine, position, place);
		if (place.name) notice.value = bothKept(mine, theirs);
		return;
	}
	saving.value = 'failed';
	unsaved.value = error.message;
	// A position that isn't in order waits for the next change; a lost server is tried again.
	if (!(error instanceof api.ServerError)) timer = setTimeout(saveNow, AGAIN_AFTER);
}

/** @param {{ name: string }} mine @param {{ name: string }} theirs */
function bothKept(mine, theirs) {
	return {
		words: `This position was changed elsewhere meanwhile. Both are kept: you go on with “${mine.name}”; the other stays “${theirs.name}”.`,
		undo: () => openNamed(theirs.name),
		label: 'Open the other',
	};
}

/** Opens a position of the library. @param {string} name */
export async function openNamed(name) {
	if (saving.value === 'changed' || saving.value === 'failed') await saveNow();
	if (await openStored(name)) unsaved.value = '';
}

/** Whether the file is still the one that was opened; where nothing was changed here, it is shown. */
async function lookElsewhere() {
	const place = file.value;
	if (document.hidden || !place.name || !place.revision || busy || saving.value !== 'saved') return;
	try {
		const found = await api.position(place.name);
		if (file.value !== place || saving.value !== 'saved') return;
		if (found.revision === place.revision || !found.document) return;
		showNewer(found);
	} catch {
		// The lost connection, or the file's absence, is said when there is something to save.
	}
}

/** @param {{ name: string, revision: string, document: import('../state.js').PositionDocument }} found */
function showNewer(found) {
	const mine = documentNow.value;
	const rungs = pinned.value;
	openDocument(found.document, { name: found.name, revision: found.revision, shipped: false });
	pinned.value = rungs;
	notice.value = {
		words: `“${found.name}” was changed elsewhere; this is the newer version.`,
		label: 'Keep mine beside it',
		undo: () => {
			if (!mine) return;
			openDocument(mine, { name: `${found.name} mine`, revision: null, shipped: false });
			saving.value = 'changed';
			notice.value = null;
		},
	};
}

/** A file's name after the title. @param {string | undefined} title */
export function nameFrom(title) {
	const plain = (title ?? '')
		.toLowerCase()
		.replace(/[^\p{L}\p{N}]+/gu, '-')
		.replace(/^-+|-+$/g, '')
		.slice(0, 60)
		.replace(/-+$/, '');
	return plain || 'position';
}
