// @ts-check
// What of a position its plays depend on: all but what only names, varies or notes.

/** @param {any} position */
export function playedOf(position) {
	const { title: _title, ladder: _ladder, note: _note, ...played } = position ?? {};
	return played;
}
