// @ts-check
// Class view: the whole screen, only plan, face and pace, the answer hidden until asked for.

import { html } from '../lib/view.js';
import { classView } from './state.js';

export function ClassView() {
	if (!classView.value) return null;
	return html`<button class="leave-class" onClick=${() => (classView.value = false)}>Leave class view</button>`;
}
