// @ts-check
// The way into gauging a table: a view of its own, with an address of its own (#gauge=RECORD/SHOT),
// loaded when it is first entered. The position stays as it is meanwhile.

import { html, signal, useEffect } from '../lib/view.js';
import { notice } from './state.js';

/** What stands behind #gauge= in the address, "" without a record; null: another view. */
export const gaugeAt = signal(fromAddress());
const loaded = signal(/** @type {{ View: () => any } | null} */ (null));

addEventListener('hashchange', () => {
	gaugeAt.value = fromAddress();
});

function fromAddress() {
	return /^#gauge(?:=(.*))?$/.exec(location.hash)?.map((part) => part ?? '')[1] ?? null;
}

export function enterGauging() {
	location.hash = 'gauge';
}

/** The position again, as it was left. */
export function leaveGauging() {
	history.pushState(null, '', location.pathname);
	gaugeAt.value = null;
}

export function Gauge() {
	const isIn = gaugeAt.value !== null;
	useEffect(() => {
		if (!isIn || loaded.value) return;
		import('./gauge/view.js')
			.then(async ({ GaugeView, dressed }) => {
				await dressed();
				loaded.value = { View: GaugeView };
			})
			.catch(() => {
				notice.value = { words: 'This could not be loaded. Reload the page, and try again.' };
			});
	}, [isIn]);
	return isIn && loaded.value ? html`<${loaded.value.View} />` : null;
}
