// @ts-check
// The plan: the server's drawing, and what the hand does on it.

import { effect, html, useEffect, useLayoutEffect, useRef } from '../lib/view.js';
import { magnified } from './class/type_size.js';
import { learnTables } from './equipment.js';
import { AimHandle } from './plan/aim_handle.js';
import { Corner } from './plan/corner.js';
import { EventMark } from './plan/event_mark.js';
import { above, below, under } from './plan/extras.js';
import { Handles, watchHand } from './plan/handles.js';
import { showLayers } from './plan/layers.js';
import { Loupe } from './plan/loupe.js';
import { view, viewBox } from './plan/view.js';
import { MotionMarks } from './playback.js';
import { answer, hidden, notice, optionShown, planSize } from './state.js';

export function Plan() {
	const frame = useRef(/** @type {HTMLDivElement | null} */ (null));
	const picture = useRef(/** @type {SVGSVGElement | null} */ (null));
	const drawing = useRef(/** @type {SVGGElement | null} */ (null));
	useEffect(() => {
		const element = frame.current;
		if (!element) return;
		const measure = () => {
			if (!element.clientWidth || !element.clientHeight) return; // not laid out yet
			planSize.value = [
				element.clientWidth / magnified.value,
				element.clientHeight / magnified.value,
			];
		};
		const watch = new ResizeObserver(measure);
		watch.observe(element);
		const unwatch = effect(measure);
		learnTables().catch((error) => {
			notice.value = { words: error.message };
		});
		return () => {
			watch.disconnect();
			unwatch();
		};
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
				data-way=${hidden.value ? undefined : (optionShown.value ?? undefined)}
				role="group" aria-label=${answer.value?.sentence || 'The plan of the table'}>
				<g>${under.value.map((Part) => html`<${Part} />`)}</g>
				<g ref=${drawing} id="plan-drawing" aria-hidden="true"></g>
				${below.value.map((Part) => html`<${Part} />`)}
				<${MotionMarks} />
				<${EventMark} />
				<${Handles} />
				<${AimHandle} />
				${above.value.map((Part) => html`<${Part} />`)}
			</svg>
			<${Corner} />
			<${Loupe} />
		</div>
	`;
}
