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

/** Fields that take no words: they have nothing of their own to undo. */
const WORDLESS = ['number', 'checkbox', 'radio', 'range'];

/** @param {KeyboardEvent} event whether its target undoes letters of its own */
function undoesLetters(event) {
	const at = event.target;
	if (!isTyping(event) || at instanceof HTMLSelectElement) return false;
	return !(at instanceof HTMLInputElement && WORDLESS.includes(at.type));
}

/** Undo and redo from anywhere but a field of words; a number being typed is put back first. */
export function startKeys() {
	addEventListener('keydown', (event) => {
		if (!(event.ctrlKey || event.metaKey) || undoesLetters(event)) return;
		const letter = event.key.toLowerCase();
		if (letter === 'z' && !event.shiftKey) undo();
		else if (letter === 'y' || (letter === 'z' && event.shiftKey)) redo();
		else return;
		event.preventDefault();
	});
}
