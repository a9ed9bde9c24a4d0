// @ts-check
// What the page knows of tables: their size, balls, spots and pockets, asked for once.

import { computed, signal } from '../lib/view.js';
import * as api from './api.js';
import { documentNow } from './state.js';

/**
 * Lengths in mm of the table, as everywhere in the page.
 * @typedef {object} TableKnown
 * @property {string} name
 * @property {string} title
 * @property {number} width
 * @property {number} length
 * @property {number} nose_height
 * @property {string} cue_ball
 * @property {{ name: string, radius: number, letter: string, spot?: string | null }[]} balls
 * @property {Record<string, import('./state.js').Point>} spots
 * @property {{ name: string, at: import('./state.js').Point }[]} pockets
 * @property {Record<string, Record<string, import('./state.js').Point>>} racks where their balls stand
 * @property {{ groups: string[], cushions: string[] }} names cushions anticlockwise from the near one
 * @property {ClothKnown[]} cloths
 *
 * A cloth profile; values in their own units.
 * @typedef {object} ClothKnown
 * @property {string} name
 * @property {string} title
 * @property {string} note what is assumed
 * @property {CoefficientKnown[]} numbers
 * @property {{ key: string, words: string, value: boolean }[]} switches
 *
 * @typedef {{ key: string, words: string, unit: string, least: number, most: number,
 *   allowed: string, step: number, value: number, law: string | null, law_words: string,
 *   known_by: string, source: string }} CoefficientKnown
 */

/** Every table that the server offers. */
export const tables = signal(/** @type {TableKnown[]} */ ([]));
/** The position's own table, or null while it isn't known. */
export const tableNow = computed(
	() => tables.value.find((one) => one.name === documentNow.value?.table) ?? null,
);
/** The position's own cloth, or the table's first. */
export const clothNow = computed(() => {
	const cloths = tableNow.value?.cloths ?? [];
	return cloths.find((one) => one.name === documentNow.value?.cloth) ?? cloths[0] ?? null;
});
/** The cushion that lengths up the table are measured from, in the game's words. */
export const nearCushion = computed(() => tableNow.value?.names.cushions[0] ?? 'near');
/** The name of the ball that is struck. */
export const cueBall = computed(() => tableNow.value?.cue_ball ?? 'white');

/** Asks for the tables. */
export async function learnTables() {
	tables.value = (await api.tables()).tables;
}
