// @ts-check
// What lies under the finger, larger and beside it.

import { html, signal } from '../../lib/view.js';
import { view } from './view.js';

const SIZE = 144; // across [px]
const LARGER = 2.2;
const AWAY = 100; // of its middle from the finger [px]

/** The finger that holds something: on the plan [px], and the place it holds. */
export const finger = signal(
	/** @type {{ x: number, y: number, at: import('../state.js').Point, width: number } | null} */ (
		null
	),
);

export function Loupe() {
	const now = finger.value;
	const seen = view.value;
	if (!now || !seen) return null;
	const across = ((seen[2] - seen[0]) * SIZE) / now.width / LARGER;
	const [x, y] = now.at;
	const box = `${x - across / 2} ${-y - across / 2} ${across} ${across}`;
	const above = now.y - AWAY - SIZE / 2 >= 0;
	const aside = now.x - AWAY - SIZE / 2 >= 0 ? -1 : 1;
	const left = above ? clamp(now.x - SIZE / 2, now.width - SIZE) : now.x + aside * AWAY - SIZE / 2;
	const top = above ? now.y - AWAY - SIZE / 2 : Math.max(now.y - SIZE / 2, 0);
	return html`<svg class="loupe" viewBox=${box} aria-hidden="true"
		style=${{ left: `${left}px`, top: `${top}px`, width: `${SIZE}px`, height: `${SIZE}px` }}>
		<use href="#plan-drawing" />
	</svg>`;
}

/** @param {number} value @param {number} most */
const clamp = (value, most) => Math.min(Math.max(value, 0), most);
