// @ts-check
// Keys that work everywhere on the page.

import { redo, undo } from './state.js';

/** @param {KeyboardEvent} event whether its target takes letters itself */
export function isTyping(event) {
	const at = event.target;
	return (
		at instanceof HTMLElement &&
		(at.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(at.tagName))
	);
}

/** Undo and redo from anywhere but a field, which undoes its own letters. */
export function startKeys() {
	addEventListener('keydown', (event) => {
		if (!(event.ctrlKey || event.metaKey) || isTyping(event)) return;
		const letter = event.key.toLowerCase();
		if (letter === 'z' && !event.shiftKey) undo();
		else if (letter === 'y' || (letter === 'z' && event.shiftKey)) redo();
		else return;
		event.preventDefault();
	});
}
