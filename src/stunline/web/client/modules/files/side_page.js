// @ts-check
// A page that opens beside the work, not over it: Escape closes it, the focus comes back, and
// everything else stays within reach.

import { html, signal, useLayoutEffect, useRef } from '../../lib/view.js';

/** Which one is open. */
export const sidePage = signal(/** @type {'library' | 'print' | 'help' | null} */ (null));

/** @type {Element | null} */
let opener = null;

/** Opens that one, or closes it where it is open. @param {'library' | 'print' | 'help'} name */
export function toggle(name) {
	if (sidePage.value === name) {
		close();
		return;
	}
	if (sidePage.value === null) opener = document.activeElement;
	sidePage.value = name;
}

export function close() {
	sidePage.value = null;
	if (opener instanceof HTMLElement) opener.focus();
}

/**
 * @param {{ title: string, kind: string, children: import('../../lib/view.js').ComponentChildren }} props
 */
export function SidePage({ title, kind, children }) {
	const place = useRef(/** @type {HTMLElement | null} */ (null));
	useLayoutEffect(() => {
		const first = place.current?.querySelector('input, .side-page-body button, .side-page-body a');
		(first instanceof HTMLElement ? first : place.current)?.focus();
	}, []);
	const leave = (/** @type {KeyboardEvent} */ event) => {
		if (event.key !== 'Escape') return;
		event.stopPropagation();
		close();
	};
	return html`<section class=${`side-page ${kind}`} role="dialog" aria-label=${title} ref=${place} tabindex="-1"
		onKeyDown=${leave}>
		<div class="with-action"><h2 class="large">${title}</h2><button onClick=${close}>Close</button></div>
		<div class="side-page-body">${children}</div>
	</section>`;
}
