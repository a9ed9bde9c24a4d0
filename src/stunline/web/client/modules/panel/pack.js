// @ts-check
// The fold of the pack that is opened many times, for a position that racks one.

import { html } from '../../lib/view.js';
import { tableNow } from '../equipment.js';
import { documentNow } from '../state.js';
import { Fold } from './fold.js';

/** The rack that the document sets up, and its own gaps. @returns {{ gaps: number } | null} */
export function rackOf() {
	const racks = Object.keys(tableNow.value?.racks ?? {});
	for (const value of Object.values(documentNow.value?.balls ?? {})) {
		if (typeof value === 'string' && racks.includes(value)) return { gaps: 0 };
		if (racks.includes(value?.rack)) return { gaps: Number(value.gaps) || 0 };
	}
	return null;
}

const load = async () => (await import('./pack_inside.js')).PackInside;

export const Pack = () =>
	rackOf() &&
	html`<${Fold} name="pack-study" tells title="Open the pack many times" load=${load} />`;
