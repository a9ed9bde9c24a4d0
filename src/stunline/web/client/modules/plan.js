// @ts-check
// The plan: the server's drawing, and what the hand does on it.

import { html, useEffect, useLayoutEffect, useRef } from '../lib/view.js';
import { learnTables } from './equipment.js';
import { Handles, watchHand } from './plan/handles.js';
import { showLayers } from './plan/layers.js';
import { view, viewBox } from './plan/view.js';
import { answer, notice, planSize } from './state.js';

export function Plan() {
	const frame = useRef(/** @type {HTMLDivElement | null} */ (null));
	const picture = useRef(/** @type {SVGSVGElement | null} */ (null));
	const drawing = useRef(/** @type {SVGGElement | null} */ (null));
	useEffect(() => {
		const element = frame.current;
		if (!element) return;
		const watch = new ResizeObserver(() => {
			planSize.value = [element.clientWidth, element.clientHeight];
		});
		watch.observe(element);
		learnTables().catch((error) => {
			notice.value = { words: error.message };
		});
		return () => watch.disconnect();
	}, []);
	useLayoutEffect(() => {
		if (!drawing.current || !picture.current) return;
		const stops = [showLayers(drawing.current), watchHand(picture.current)];
		return () => {
			for (const stop of stops) stop();
		};
	}, []);
	return html`
		<div class="plan" ref=${frame}>
			<svg class="plan-picture" ref=${picture} viewBox=${viewBox(view.value ?? [0, 0, 1, 1])}
				role="group" aria-label=${answer.value?.sentence || 'The plan of the table'}>
				<g ref=${drawing} aria-hidden="true"></g>
				<${Handles} />
			</svg>
		</div>
	`;
}
