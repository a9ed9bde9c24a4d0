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
 * @property {{ groups: string[] }} names
 */

/** Every table that the server offers. */
export const tables = signal(/** @type {TableKnown[]} */ ([]));
/** The position's own table, or null while it isn't known. */
export const tableNow = computed(
	() => tables.value.find((one) => one.name === documentNow.value?.table) ?? null,
);
/** The name of the ball that is struck. */
export const cueBall = computed(() => tableNow.value?.cue_ball ?? 'white');

/** Asks for the tables. */
export async function learnTables() {
	tables.value = (await api.tables()).tables;
}
