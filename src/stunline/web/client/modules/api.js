// @ts-check
// What the page asks of its server over HTTP; every error becomes a sentence.

/** An answer that is an error, with the server's own account of it. */
export class ServerError extends Error {
	/**
	 * @param {number} status
	 * @param {any} body
	 */
	constructor(status, body) {
		super(sentenceOf(body?.error) || `The server answered with ${status}.`);
		this.status = status;
		this.body = body;
	}
}

/**
 * An error object as one sentence after another: what was wrong and what to do.
 * @param {import('./state.js').Fault | null | undefined} error
 */
export function sentenceOf(error) {
	if (!error) return '';
	return error.faults.map(faultSentence).join(' ') || error.reason;
}

/** @param {import('./state.js').FaultLine} one */
function faultSentence(one) {
	const given = one.given ? ` (given: ${one.given})` : '';
	const parts = [`${one.what}${given}`, one.allowed && `allowed: ${one.allowed}`, one.remedy];
	return parts
		.filter(Boolean)
		.map((part) => `${part[0]?.toUpperCase()}${part.slice(1)}`.replace(/[.]?$/, '.'))
		.join(' ');
}

/**
 * @param {string} method
 * @param {string} path
 * @param {unknown} [body]
 * @param {AbortSignal} [signal]
 * @returns {Promise<Response>}
 */
async function ask(method, path, body, signal) {
	/** @type {RequestInit} */
	const request = { method, credentials: 'same-origin', ...(signal && { signal }) };
	if (body !== undefined) {
		request.headers = { 'Content-Type': 'application/json' };
		request.body = JSON.stringify(body);
	}
	const response = await fetch(path, request).catch(() => {
		throw new Error('The server does not answer. Start it again with: stunline open.');
	});
	if (!response.ok) {
		throw new ServerError(response.status, await response.json().catch(() => null));
	}
	return response;
}

/** @param {string} path @returns {Promise<any>} */
export const get = async (path) => (await ask('GET', path)).json();
/** @param {string} path @param {unknown} [body] @returns {Promise<any>} */
export const post = async (path, body = {}) => (await ask('POST', path, body)).json();
/** @param {string} path @param {unknown} body @returns {Promise<any>} */
export const put = async (path, body) => (await ask('PUT', path, body)).json();
/** @param {string} path @returns {Promise<any>} */
export const remove = async (path) => (await ask('DELETE', path)).json();
/** @param {string} path @param {unknown} body @param {AbortSignal} [signal] @returns {Promise<Blob>} */
export const fetchFile = async (path, body, signal) =>
	(await ask('POST', path, body, signal)).blob();

/** @param {string} name */
const at = (name) => `/api/positions/${encodeURIComponent(name)}`;

/** Tables, cloths, spots, balls and pockets. */
export const tables = () => get('/api/tables');
export const pageState = () => get('/api/page-state');
/** @param {Record<string, unknown>} state */
export const keepPageState = (state) => put('/api/page-state', { state });
/** @param {string} theme */
export const opening = (theme) => get(`/api/opening?theme=${theme}`);
/** @param {string} [search] */
export const positions = (search = '') =>
	get(`/api/positions${search ? `?search=${encodeURIComponent(search)}` : ''}`);
/** @param {string} name */
export const position = (name) => get(at(name));
/** @param {string} name @param {string} theme */
export const thumbnail = (name, theme) => `${at(name)}/thumbnail.svg?theme=${theme}`;
/** @param {string} name @param {unknown} document @param {string | null} revision */
export const save = (name, document, revision) => put(at(name), { document, revision });
/** @param {string} name @param {string} to */
export const rename = (name, to) => post(`${at(name)}/rename`, { to });
/** @param {string} name @param {string | null} to */
export const duplicate = (name, to = null) => post(`${at(name)}/duplicate`, { to });
/** @param {string} name */
export const removePosition = (name) => remove(at(name));
/** @param {string} token */
export const undoRemoval = (token) => post(`/api/undo/${encodeURIComponent(token)}`);
/** @param {{ text: string } | { document: unknown }} what */
export const read = (what) => post('/api/read', what);
