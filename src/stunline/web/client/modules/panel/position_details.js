// @ts-check
// The fold of what belongs to the position beside balls and strike.

import { html } from '../../lib/view.js';
import { Fold } from './fold.js';

const load = async () => (await import('./details_inside.js')).DetailsInside;

export const PositionDetails = () =>
	html`<${Fold} name="position-details" title="Table, cloth, lengths and note" load=${load} />`;
