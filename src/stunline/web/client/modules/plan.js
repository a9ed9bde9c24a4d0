// @ts-check
// The plan: the server's drawing, and what the hand does on it.

import { html, useEffect, useLayoutEffect, useRef } from '../lib/view.js';
import { drawn } from './live.js';
import { showLayers } from './plan/layers.js';
import { answer, planSize } from './state.js';

export function Plan() {
	const frame = useRef(/** @type {HTMLDivElement | null} */ (null));
	const drawing = useRef(/** @type {SVGGElement | null} */ (null));
	useEffect(() => {
		const element = frame.current;
		if (!element) return;
		const watch = new ResizeObserver(() => {
			planSize.value = [element.clientWidth, element.clientHeight];
		});
		watch.observe(element);
		return () => watch.disconnect();
	}, []);
	useLayoutEffect(() => (drawing.current ? showLayers(drawing.current) : undefined), []);
	const [left, bottom, right, top] = drawn.value?.window ?? [0, 0, 1, 1];
	return html`
		<div class="plan" ref=${frame}>
			<svg class="plan-picture" viewBox=${`${left} ${-top} ${right - left} ${top - bottom}`}
				role="img" aria-label=${answer.value?.sentence || 'The plan of the table'}>
				<g ref=${drawing}></g>
			</svg>
		</div>
	`;
}
