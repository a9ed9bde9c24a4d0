// @ts-check
// What of a position its plays depend on: all but what only names, varies, notes, or tells
// of a stroke that was really played.

/** @param {any} position */
export function playedOf(position) {
	const { title: _title, ladder: _ladder, note: _note, played: _was, ...played } = position ?? {};
	return played;
}
