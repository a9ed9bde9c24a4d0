// @ts-check
// Class view: the whole screen, only plan, face and pace, the answer hidden until asked for, and
// guesses marked on the plan before it is shown.

import { effect, html, useEffect } from '../lib/view.js';
import { Guesses, guessByKeys, guesses } from './class/guesses.js';
import { holdView } from './plan/view.js';
import { PlayButton } from './playback.js';
import { classView, hidden, notice } from './state.js';

export function ClassView() {
	useEffect(() => {
		const stop = effect(() => fillScreen(classView.value));
		const onLeave = () => {
			if (!document.fullscreenElement) classView.value = false;
		};
		// Where the browser gave the whole screen, it takes Escape itself.
		const onKey = (/** @type {KeyboardEvent} */ event) => {
			if (event.key === 'Escape' && classView.value) leave();
		};
		document.addEventListener('fullscreenchange', onLeave);
		addEventListener('keydown', onKey);
		return () => {
			removeEventListener('keydown', onKey);
			stop();
			document.removeEventListener('fullscreenchange', onLeave);
		};
	}, []);
	if (!classView.value) return null;
	return html`
		<${Guesses} />
		<nav class="class-bar" aria-label="Class view">
			${
				hidden.value
					? html`<button class="class-show" onClick=${show}>Show</button>`
					: html`<button class="class-show" onClick=${() => (hidden.value = true)}>Hide</button>`
			}
			${!hidden.value && html`<${PlayButton} />`}
			${guesses.value.length > 0 && html`<button onClick=${() => (guesses.value = [])}>Clear guesses</button>`}
			${hidden.value && html`<button onClick=${guessByKeys}>Guess by keys</button>`}
			<button onClick=${leave}>Leave</button>
		</nav>
	`;
}

/** The answer; where there are guesses it is shown in the window in which they were made. */
function show() {
	if (guesses.value.length > 0) holdView();
	hidden.value = false;
}

function leave() {
	classView.value = false;
}

/** The page fills the screen where the browser lets it; without that it fills the window. @param {boolean} on */
function fillScreen(on) {
	document.documentElement.toggleAttribute('data-class-view', on);
	if (on) {
		guesses.value = [];
		notice.value = null;
		hidden.value = true;
		document.documentElement.requestFullscreen?.().catch(() => {}); // the window is enough
	} else if (document.fullscreenElement) {
		document.exitFullscreen().catch(() => {});
	}
}
