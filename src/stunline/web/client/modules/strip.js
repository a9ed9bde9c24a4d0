// @ts-check
// The pace strip: a ruler whose bands say what each pace does.

import { html, useEffect, useRef } from '../lib/view.js';
import { answer, change, strip, stripWidth } from './state.js';

export function Strip() {
	const place = useRef(/** @type {HTMLDivElement | null} */ (null));
	useEffect(() => {
		const element = place.current;
		if (!element) return;
		const watch = new ResizeObserver(() => (stripWidth.value = element.clientWidth));
		watch.observe(element);
		return () => watch.disconnect();
	}, []);
	useEffect(() => {
		const picture = new DOMParser().parseFromString(
			strip.value?.svg ?? '<svg xmlns="http://www.w3.org/2000/svg"/>',
			'image/svg+xml',
		);
		place.current?.replaceChildren(document.adoptNode(picture.documentElement));
	}, [strip.value]);
	const pace = answer.value?.strike.pace ?? 0;
	return html`
		<label>Pace <input type="number" min="0.02" max="15" step="0.05" value=${pace.toFixed(2)}
			onChange=${(/** @type {Event} */ event) => {
				const value = Number(/** @type {HTMLInputElement} */ (event.target).value);
				change('set the pace', (position) => {
					position.strike.pace = value;
				});
			}} /> m/s</label>
		<div ref=${place}></div>
	`;
}
