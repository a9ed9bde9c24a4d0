// @ts-check
// The place of an event that is pointed at in the list.

import { html } from '../../lib/view.js';
import { ballsDrawn } from '../live.js';
import { eventShown } from '../state.js';
import { scale } from './view.js';

const BEYOND = 9; // the ring's distance from the ball [px]
const ARM = 7; // of the four strokes across it [px]

export function EventMark() {
	const event = eventShown.value;
	if (!event) return null;
	const [x, y] = [event.at[0], -event.at[1]];
	const radius = (ballsDrawn.value[event.ball ?? '']?.radius ?? 0) + BEYOND / scale.value;
	const [inside, outside] = [radius - ARM / scale.value, radius + ARM / scale.value];
	const strokes = [
		`M${x - outside} ${y}H${x - inside}M${x + inside} ${y}H${x + outside}`,
		`M${x} ${y - outside}V${y - inside}M${x} ${y + inside}V${y + outside}`,
	];
	return html`<g class="event-mark" aria-hidden="true">
		<circle cx=${x} cy=${y} r=${radius} /><path d=${strokes.join('')} />
	</g>`;
}
