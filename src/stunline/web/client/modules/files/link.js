// @ts-check
// A position packed in an address's fragment: JSON, deflated, in letters that addresses take.

const MARK = 'position=';
const LARGEST = 1_000_000; // of a position once unpacked; a small one can claim to be huge [bytes]

/** The packed position in an address or its fragment, or null. @param {string} text */
export function packedIn(text) {
	return /#position=([\w-]+)\s*$/.exec(text.trim())?.[1] ?? null;
}

/** This page's address with the position in it. @param {unknown} position */
export async function linkTo(position) {
	return `${location.origin}/#${MARK}${await pack(position)}`;
}

/** @param {unknown} position */
export async function pack(position) {
	const text = new Blob([JSON.stringify(position)]);
	const stream = text.stream().pipeThrough(new CompressionStream('deflate-raw'));
	const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
	const letters = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
	return letters.replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

/** @param {string} packed @returns {Promise<unknown>} */
export async function unpack(packed) {
	try {
		const letters = atob(packed.replaceAll('-', '+').replaceAll('_', '/'));
		const bytes = Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
		const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
		return JSON.parse(await bounded(stream));
	} catch {
		throw new Error('The link is not whole: copy it again from its beginning to its end.');
	}
}

/** @param {ReadableStream<Uint8Array>} stream */
async function bounded(stream) {
	const reader = stream.getReader();
	const decoder = new TextDecoder('utf-8', { fatal: true });
	let text = '';
	for (;;) {
		const { done, value } = await reader.read();
		if (done) return text + decoder.decode();
		text += decoder.decode(value, { stream: true });
		if (text.length > LARGEST) throw new Error('too large');
	}
}
