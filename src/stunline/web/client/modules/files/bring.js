// @ts-check
// Positions from elsewhere: a dropped or chosen file, pasted text, a link. Checked like a file of
// the library, and opened as a new one: nothing is ever written over.

import { signal } from '../../lib/view.js';
import * as api from '../api.js';
import { isTyping } from '../keys.js';
import { notice, openDocument, saving } from '../state.js';
import { nameFrom, saveNow } from './autosave.js';
import { packedIn, unpack } from './link.js';

const LARGEST = 1_000_000; // as for every position file [bytes]

/** A file is held over the page. */
export const dropping = signal(false);

/** Opens a position that came as text: its TOML, or a link that holds it. @param {string} text */
export async function bringText(text) {
	const packed = packedIn(text);
	await bring(packed === null ? { text } : { document: await unpack(packed) });
}

/** @param {{ text: string } | { document: unknown }} what */
async function bring(what) {
	const read = await api.read(what);
	if (saving.value === 'changed') await saveNow();
	openDocument(read.document, { name: null, revision: null, shipped: false });
	notice.value = { words: `Brought in as a new position: “${read.document.title ?? 'untitled'}”.` };
	await saveAsNew(read.document);
}

/** @param {import('../state.js').PositionDocument} position */
async function saveAsNew(position) {
	const { positions } = await api.positions();
	const taken = new Set(
		positions.map((/** @type {{ name: string }} */ one) => one.name.toLowerCase()),
	);
	const name = nameFrom(position.title);
	let free = name;
	for (let number = 2; taken.has(free); number += 1) free = `${name}-${number}`;
	openDocument(position, { name: free, revision: null, shipped: false });
	await saveNow();
}

/** @param {File | undefined | null} dropped */
export async function bringFile(dropped) {
	if (!dropped) return;
	if (dropped.size > LARGEST) {
		refused(new Error(`“${dropped.name}” is too large for a position: at most 1 MB.`));
		return;
	}
	await bringText(await dropped.text()).catch(refused);
}

/** @param {Error} error */
export function refused(error) {
	notice.value = { words: `Nothing was brought in. ${error.message}` };
}

/** Drops and pastes anywhere on the page, and a position in the address. */
export function startBringing() {
	addEventListener('dragover', (event) => {
		if (!event.dataTransfer?.types.includes('Files')) return;
		event.preventDefault();
		dropping.value = true;
	});
	addEventListener('dragleave', (event) => {
		if (!event.relatedTarget) dropping.value = false;
	});
	addEventListener('drop', (event) => {
		event.preventDefault();
		dropping.value = false;
		bringFile(event.dataTransfer?.files[0]);
	});
	addEventListener('paste', (event) => {
		const text = event.clipboardData?.getData('text') ?? '';
		const told = packedIn(text) !== null || /^\s*\[?(strike|balls|table|title)\b/m.test(text);
		if (!isTyping(/** @type {any} */ (event)) && told) bringText(text).catch(refused);
	});
	addEventListener('hashchange', bringAddress);
}

/** Opens the position in the address, which is then taken out of it. @returns {Promise<boolean>} */
export async function bringAddress() {
	const packed = packedIn(location.hash);
	if (packed === null) return false;
	history.replaceState(null, '', location.pathname);
	try {
		await bring({ document: await unpack(packed) });
		return true;
	} catch (error) {
		refused(/** @type {Error} */ (error));
		return false;
	}
}
