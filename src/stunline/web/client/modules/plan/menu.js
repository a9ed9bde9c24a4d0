// @ts-check
// A button that opens a short list of what can be done.

import { html, useLayoutEffect, useRef, useSignal } from '../../lib/view.js';

/**
 * @param {object} props
 * @param {string} props.words on the button
 * @param {string} [props.label] what is spoken, where it says more
 * @param {{ words: string, act: () => void, disabled?: boolean, rule?: boolean }[]} props.entries
 */
export function Menu({ words, label, entries }) {
	const open = useSignal(false);
	const place = useRef(/** @type {HTMLDivElement | null} */ (null));
	useLayoutEffect(() => {
		if (!open.value) return;
		step(place.current, 1);
		const leave = (/** @type {Event} */ event) => {
			if (!place.current?.contains(/** @type {Node} */ (event.target))) open.value = false;
		};
		addEventListener('pointerdown', leave);
		return () => removeEventListener('pointerdown', leave);
	}, [open.value]);
	const onKey = (/** @type {KeyboardEvent} */ event) => {
		if (!open.value) return;
		if (event.key === 'Escape') close();
		else if (event.key === 'ArrowDown') step(place.current, 1);
		else if (event.key === 'ArrowUp') step(place.current, -1);
		else return;
		event.preventDefault();
		event.stopPropagation();
	};
	const close = () => {
		open.value = false;
		place.current?.querySelector('button')?.focus();
	};
	return html`<div class="menu" ref=${place} onKeyDown=${onKey}>
		<button aria-expanded=${open.value} aria-label=${label} onClick=${() => (open.value = !open.value)}>${words}</button>
		${
			open.value &&
			html`<ul>${entries.map(
				(
					entry,
				) => html`<li class=${entry.rule ? 'after-rule' : undefined}><button disabled=${entry.disabled}
					onClick=${() => {
						close();
						entry.act();
					}}>${entry.words}</button></li>`,
			)}</ul>`
		}
	</div>`;
}

/** @param {HTMLElement | null} place @param {number} way */
function step(place, way) {
	const buttons = [...(place?.querySelectorAll('li button:not(:disabled)') ?? [])];
	const at = buttons.indexOf(/** @type {Element} */ (document.activeElement));
	const next = buttons[at < 0 ? 0 : (at + way + buttons.length) % buttons.length];
	if (next instanceof HTMLElement) next.focus();
}
