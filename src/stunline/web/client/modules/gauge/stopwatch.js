// @ts-check
// A watch to time a ball with by hand: pressed as it starts, and again as it comes to rest.

import { html, useEffect, useSignal } from '../../lib/view.js';

const TICK = 50; // ms between two times shown
const DIGITS = 2; // of a second; a hand is off by fifteen of the last

/** @param {{ onTake: (seconds: string) => void }} props */
export function Stopwatch({ onTake }) {
	const began = useSignal(/** @type {number | null} */ (null));
	const now = useSignal(0);
	useEffect(() => {
		if (began.value === null) return undefined;
		const timer = setInterval(() => (now.value = performance.now()), TICK);
		return () => clearInterval(timer);
	}, [began.value]);
	const since = () => (performance.now() - (began.value ?? 0)) / 1000;
	const press = () => {
		if (began.value === null) {
			now.value = began.value = performance.now();
			return;
		}
		onTake(since().toFixed(DIGITS));
		began.value = null;
	};
	if (began.value === null) return html`<button onClick=${press}>Start watch</button>`;
	const seen = Math.max(0, (now.value - began.value) / 1000).toFixed(1);
	return html`<button class="gauge-watch" onClick=${press}>Stop <span aria-hidden="true">${seen} s</span></button>`;
}
