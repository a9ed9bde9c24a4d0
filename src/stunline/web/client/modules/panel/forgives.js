// @ts-check
// What the strike forgives: margins, chance, what goes wrong, and the map of the white's face.

import { html, useLayoutEffect, useRef } from '../../lib/view.js';
import { playedOf } from '../maps/played.js';
import { Progress } from '../maps/progress.js';
import { makeStudy } from '../maps/study.js';

/**
 * @typedef {{ goal: string, own: boolean, meant: string, player: string, chance: string,
 *   in_ten: string, plays: number, alone: string, margins: string[][], first: string,
 *   kinds: string[][], map: string, tables: { basis: string, rows: string[][] } | null }} Told
 */

const study = /** @type {ReturnType<typeof makeStudy<Told>>} */ (
	makeStudy('/api/margins', playedOf)
);

export function Forgives() {
	return html`<p class="small soft">How far the strike may be off, and how often a player brings it off: with the
			goal, or else held to what the strike does itself.</p>
		<${Progress} study=${study} begin="Try it" label="How much is played" />
		<${Found} />`;
}

function Found() {
	const told = study.told.value;
	if (!told) return null;
	return html`<div class="forgives-told" data-old=${study.isCurrent.value ? undefined : ''}>
		${told.chance && html`<p class="sentence">${told.in_ten[0]?.toUpperCase()}${told.in_ten.slice(1)}: ${told.chance}.</p>`}
		${told.alone && html`<p class="note">Without any error the strike fails: ${told.alone}. So no margins.</p>`}
		${told.first && html`<p class="small">${told.first}</p>`}
		<${Face} svg=${told.map} />
		${told.kinds.length > 0 && html`<${Table} caption="What goes wrong, of all strokes" head=${['share', 'what goes wrong']} rows=${told.kinds} />`}
		${told.tables && html`<${Table} caption=${`On tables that this one may be (${told.tables.basis})`} head=${['struck', 'chance']} rows=${told.tables.rows} />`}
		${told.margins.length > 0 && html`<${Table} caption="Off alone, the goal still met" head=${['number', 'way', 'may be off', 'what fails then']} rows=${told.margins} />`}
		<p class="small soft">Held to: ${told.goal}${told.own ? ' (no goal is set: what the strike does)' : ''}. ${told.player}.
			Shares with their 95 % interval.</p>
	</div>`;
}

/** @param {{ caption: string, head: string[], rows: string[][] }} props */
export function Table({ caption, head, rows }) {
	return html`<table class="pack-table">
		<caption>${caption}</caption>
		<thead class="only-spoken"><tr>${head.map((words) => html`<th scope="col">${words}</th>`)}</tr></thead>
		<tbody>${rows.map((row) => html`<tr>${row.map((cell) => html`<td>${cell}</td>`)}</tr>`)}</tbody>
	</table>`;
}

/** The server's picture. @param {{ svg: string }} props */
function Face({ svg }) {
	const place = useRef(/** @type {HTMLDivElement | null} */ (null));
	useLayoutEffect(() => {
		if (!svg) {
			place.current?.replaceChildren();
			return;
		}
		const picture = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
		place.current?.replaceChildren(document.adoptNode(picture));
	}, [svg]);
	return html`<div class="forgives-map" ref=${place}></div>`;
}
