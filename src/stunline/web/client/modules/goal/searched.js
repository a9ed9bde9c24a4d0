// @ts-check
// What of a position a search of strikes depends on.

/** What of a document a search depends on. @param {any} position */
export function searchedOf(position) {
	const { title: _title, ladder: _ladder, note: _note, strike, ...others } = position ?? {};
	const { pace, height, arrive, ...aimed } = strike ?? {};
	const vary = others.goal?.vary;
	const held = (/** @type {string} */ key) => vary && !(key in vary);
	return {
		...others,
		strike: {
			...aimed,
			...(held('pace') && { pace }),
			...(held('height') && { height, arrive }),
		},
	};
}
