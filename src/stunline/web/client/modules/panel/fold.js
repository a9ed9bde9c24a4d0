// @ts-check
// A fold of the panel whose inside is loaded when it is first opened.

import { html, useSignal } from '../../lib/view.js';
import { hidden, notice } from '../state.js';

const KEPT_BACK = html`<p class="small soft">It tells the answer, which is kept back.</p>`;

/** @typedef {() => any} Component */

/**
 * @param {object} props
 * @param {string} props.name its class
 * @param {string} props.title
 * @param {string} [props.mark] what stands beside the title
 * @param {boolean} [props.tells] whether its inside tells the answer, which may be kept back
 * @param {() => Promise<Component>} props.load its inside
 */
export function Fold({ name, title, mark = '', tells = false, load }) {
	const open = useSignal(false);
	const inside = useSignal(/** @type {{ Part: Component } | null} */ (null));
	const toggled = async (/** @type {Event} */ event) => {
		open.value = /** @type {HTMLDetailsElement} */ (event.currentTarget).open;
		if (!open.value || inside.value) return;
		try {
			inside.value = { Part: await load() };
		} catch {
			notice.value = { words: 'This could not be loaded. Reload the page, and try again.' };
		}
	};
	return html`<details class=${name} onToggle=${toggled}>
		<summary>${title}${mark && html` <span class="own-count">${mark}</span>`}</summary>
		${open.value && inside.value && (tells && hidden.value ? KEPT_BACK : html`<${inside.value.Part} />`)}
	</details>`;
}

/** Links a style sheet and waits until it is there. @param {string} name @returns {Promise<void>} */
export function dress(name) {
	const href = `/client/styles/${name}`;
	if (document.querySelector(`link[href="${href}"]`)) return Promise.resolve();
	const link = document.createElement('link');
	Object.assign(link, { rel: 'stylesheet', href });
	return new Promise((done, failed) => {
		link.onload = () => done();
		link.onerror = failed;
		document.head.append(link);
	});
}
