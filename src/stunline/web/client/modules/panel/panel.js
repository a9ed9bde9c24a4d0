// @ts-check
// The strike beside the plan: the white's face, the arrival, the sentence, the read-outs.

import { html } from '../../lib/view.js';
import { documentNow } from '../state.js';
import { AimLine } from './aim.js';
import { Arrival, StrikeButtons } from './arrival.js';
import { ClothNumbers } from './cloth_numbers.js';
import { Face } from './face.js';
import { Goal } from './goal.js';
import { Happens } from './happens.js';
import { Maps } from './maps.js';
import { Pack } from './pack.js';
import { Pins } from './pins.js';
import { PositionDetails } from './position_details.js';

export function Panel() {
	if (!documentNow.value) return html`<p>The shot is being prepared.</p>`;
	return html`
		<section class="strike">
			<h2 class="only-spoken">Strike</h2>
			<${AimLine} />
			<${Face} />
			<${StrikeButtons} />
		</section>
		<${Arrival} />
		<${Happens} />
		<${Pins} />
		<${Goal} />
		<${Maps} />
		<${Pack} />
		<${PositionDetails} />
		<${ClothNumbers} />
	`;
}
