// @ts-check
// The server's drawing on the page: each layer is a group that takes the place of the one before.

import { effect } from '../../lib/view.js';
import { layers } from '../live.js';

/** In the order in which they lie on one another. */
const ORDER = [
	'doubt',
	'table',
	'dimensions',
	'paths',
	'balls',
	'contacts',
	'inset',
	'ways',
	'labels',
];

/**
 * Keeps the layers in that group as the server last drew them.
 * @param {SVGGElement} group
 * @returns {() => void} stops it
 */
export function showLayers(group) {
	/** @type {Record<string, string>} */
	let shown = {};
	/** @type {Record<string, Element>} */
	const places = {};
	for (const name of ORDER) {
		const place = document.createElementNS('http://www.w3.org/2000/svg', 'g');
		places[name] = place;
		group.append(place);
	}
	return effect(() => {
		const now = layers.value;
		for (const name of ORDER) {
			const text = now[name];
			if (text === undefined || text === shown[name]) continue;
			places[name]?.replaceChildren(parsed(text));
		}
		shown = now;
	});
}

/** @param {string} text of one layer */
export function parsed(text) {
	const whole = `<svg xmlns="http://www.w3.org/2000/svg">${text}</svg>`;
	const picture = new DOMParser().parseFromString(whole, 'image/svg+xml');
	return document.adoptNode(/** @type {Element} */ (picture.documentElement.firstElementChild));
}
