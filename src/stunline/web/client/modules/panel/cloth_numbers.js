// @ts-check
// The fold of the numbers of table and cloth, and how many of them are the position's own.

import { html } from '../../lib/view.js';
import { clothNow } from '../equipment.js';
import { documentNow } from '../state.js';
import { Fold } from './fold.js';

const load = async () => (await import('./cloth_inside.js')).ClothInside;

export function ClothNumbers() {
	if (!clothNow.value) return null;
	const count = Object.keys(documentNow.value?.coefficients ?? {}).length;
	const mark = count > 0 ? `${count} of this position’s own` : '';
	return html`<${Fold} name="cloth-numbers" title="Coefficients" mark=${mark} load=${load} />`;
}
