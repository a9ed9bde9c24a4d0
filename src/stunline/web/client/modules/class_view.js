// @ts-check
// Class view: the whole screen, plan, strike and pace; the answer hidden until asked for.

import { effect, html } from '../lib/view.js';
import { classView, hidden } from './state.js';

/** What stands over the page while a class looks at it. */
export function ClassView() {
	if (!classView.value) return null;
	return html`
		<div class="class-acts">
			<button onClick=${() => (hidden.value = !hidden.value)}>
				${hidden.value ? 'Show the answer' : 'Hide the answer'}
			</button>
			<button onClick=${() => (classView.value = false)}>Leave class view</button>
		</div>
	`;
}

/** Entering hides the answer and takes the whole screen; leaving shows it again. */
export function startClassView() {
	let before = false;
	effect(() => {
		const now = classView.value;
		if (now === before) return;
		before = now;
		hidden.value = now;
		if (now) document.documentElement.requestFullscreen?.().catch(() => {});
		else if (document.fullscreenElement) document.exitFullscreen();
	});
	document.addEventListener('fullscreenchange', () => {
		if (!document.fullscreenElement) classView.value = false;
	});
}
