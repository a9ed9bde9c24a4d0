// @ts-check
// Opens a position that is kept in the library.

import * as api from './api.js';
import { notice, openDocument } from './state.js';

/** @param {string} name @returns {Promise<boolean>} false: it could not be opened, which is said */
export async function openStored(name) {
	try {
		const found = await api.position(name);
		if (!found.document) throw new Error(api.sentenceOf(found.fault));
		openDocument(found.document, {
			name: found.name,
			revision: found.revision,
			shipped: found.shipped,
		});
		return true;
	} catch (error) {
		notice.value = { words: /** @type {Error} */ (error).message };
		return false;
	}
}
