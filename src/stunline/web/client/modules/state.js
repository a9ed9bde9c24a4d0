// @ts-check
// Everything that the page knows, as signals; `change` is the one way to edit the position.

import { batch, computed, signal, untracked } from '../lib/view.js';

/**
 * A position file as JSON: the same keys and values as its TOML.
 * @typedef {Record<string, any>} PositionDocument
 *
 * @typedef {[number, number]} Point a place on the table: mm from the left and from the near cushion
 * @typedef {[number, number, number, number]} TableWindow left, bottom, right, top [mm]
 * @typedef {{ at: Point, radius: number, letter: string, tint: string, spot: string | null }} BallShown
 * @typedef {{ aim: number, pace: number, height: number, side: number, elevation: number,
 *   lengths: number, follow_ratio: number | null }} StrikePlayed
 * @typedef {{ time: number, kind: string, words: string, at: Point, ball: string | null }} EventTold
 * @typedef {{ start: number, end: number, place: Point, velocity: Point, acceleration: Point,
 *   motion: string }} Phase
 * @typedef {{ ball: string, pocket: string, made: boolean, window: [number, number] | null }} Pot
 * @typedef {{ number: number, words: string, played: boolean }} PinnedPlayed
 *
 * A shot as played, without its picture (see live.js for the layers).
 * @typedef {object} Answer
 * @property {number} play
 * @property {TableWindow} window
 * @property {number} scale pixels for a millimetre
 * @property {Record<string, BallShown>} balls
 * @property {StrikePlayed} strike
 * @property {string} sentence
 * @property {[string, string][]} rows
 * @property {EventTold[]} events
 * @property {Record<string, Phase[]>} phases
 * @property {string[]} notes
 * @property {number} duration [s]
 * @property {Pot | null} pot
 * @property {PinnedPlayed[]} pinned
 * @property {{ sentences: string[] } | null} [doubt] what the brackets in rows mean
 *
 * @typedef {object} StripAnswer
 * @property {number} strip
 * @property {'pace' | 'height'} of
 * @property {string} svg
 * @property {{ start: number, end: number, words: string }[]} bands
 * @property {number} start
 * @property {number} end
 * @property {string} unit
 * @property {[number, number]} ruler where the ruler's ends stand [px]
 *
 * @typedef {{ what: string, given: string, allowed: string, remedy: string, key: string }} FaultLine
 * @typedef {{ kind: string, reason: string, faults: FaultLine[] }} Fault
 *
 * @typedef {Record<string, number | string>} PinnedStrike keys in which it differs from [strike]
 *
 * Where the position stands in the library. `name` null: nowhere yet.
 * @typedef {{ name: string | null, revision: string | null, shipped: boolean }} FileState
 */

/** The position being edited; null until the first one has arrived. Never edit it in place. */
export const documentNow = signal(/** @type {PositionDocument | null} */ (null));
/** Strikes pinned beside the document's own. */
export const pinned = signal(/** @type {PinnedStrike[]} */ ([]));
/** The newest shot as played; stays while a fault is shown. */
export const answer = signal(/** @type {Answer | null} */ (null));
/** The newest strip. */
export const strip = signal(/** @type {StripAnswer | null} */ (null));
/** Whether it is of an earlier shot, since the one that is set now can't be played. */
export const stripIsOld = signal(false);
/** Why the document can't be played, or null. */
export const fault = signal(/** @type {Fault | null} */ (null));
/** What the strip varies; null: no strip is asked for. */
export const stripOf = signal(/** @type {'pace' | 'height' | null} */ ('pace'));
/** Width of the strip on the screen. [px] */
export const stripWidth = signal(0);

/** The ball that arrow keys move and whose place can be typed. */
export const selection = signal(/** @type {string | null} */ ('white'));
/** The ball under the finger, while it is there. */
export const held = signal(/** @type {string | null} */ (null));
/** The answer is hidden until asked for. */
export const hidden = signal(false);
/** Whether it is shown how far the shot may be off on this table. */
export const doubtShown = signal(true);
/** The whole screen for a class. */
export const classView = signal(false);
/** An event that is pointed at in the list: the plan shows its place. */
export const eventShown = signal(/** @type {EventTold | null} */ (null));
/** Shows another strike instead of the document's for a moment, as when the strip is hovered. */
export const preview = signal(/** @type {PinnedStrike | null} */ (null));

/**
 * Strikes drawn on the plan with a letter at the end of their way.
 * @typedef {{ letter: string, aim: number, pace: number, height: number, side: number, elevation: number }} Way
 */
/** Those that meet the goal. */
export const goalWays = signal(/** @type {Way[]} */ ([]));
/** The one of them that is pointed at, by its letter. */
export const optionShown = signal(/** @type {string | null} */ (null));
/** The one to a place that is pointed at; it is drawn by itself. */
export const placeWay = signal(/** @type {Way | null} */ (null));
export const waysDrawn = computed(() => (placeWay.value ? [placeWay.value] : goalWays.value));

/** Part of the table that the plan shows; null: framed on the action. */
export const tableWindow = signal(/** @type {TableWindow | null} */ (null));
/** The plan's size on the screen. [px] */
export const planSize = signal(/** @type {[number, number]} */ ([0, 0]));
/** Labels are placed; left out while something moves. */
export const words = signal(true);

/** @type {import('../lib/view.js').Signal<'system' | 'light' | 'dark'>} */
export const themeChoice = signal('system');
/** Whether the system asks for a dark screen. */
export const systemIsDark = signal(matchMedia('(prefers-color-scheme: dark)').matches);
export const theme = computed(() =>
	themeChoice.value === 'system' ? (systemIsDark.value ? 'dark' : 'light') : themeChoice.value,
);
/** Which hand the layout is for. @type {import('../lib/view.js').Signal<'right' | 'left'>} */
export const hand = signal('right');

/** @type {import('../lib/view.js').Signal<FileState>} */
export const file = signal({ name: null, revision: null, shipped: false });
/** Where saving stands. @type {import('../lib/view.js').Signal<'saved' | 'saving' | 'changed' | 'failed'>} */
export const saving = signal('saved');
/** The engine, while it isn't ready. @type {import('../lib/view.js').Signal<{ state: string, words: string } | null>} */
export const engine = signal(null);
/** Whether the server answers. */
export const connected = signal(true);
/** A sentence for the user that passes: what was done, or what went wrong and what to try. */
export const notice = signal(
	/** @type {{ words: string, undo?: () => void, label?: string } | null} */ (null),
);

/** @typedef {{ label: string, document: PositionDocument, pinned: PinnedStrike[], gesture: string }} Step */
const done = signal(/** @type {Step[]} */ ([]));
const undone = signal(/** @type {Step[]} */ ([]));
/** What undo would take back, in words, or null. */
export const undoLabel = computed(() => done.value.at(-1)?.label ?? null);
export const redoLabel = computed(() => undone.value.at(-1)?.label ?? null);

/** @typedef {{ document: PositionDocument, pinned: PinnedStrike[] }} Draft */

/**
 * The one way to edit the position, so that everything can be taken back.
 * @param {string} label what it does, as undo names it: "move the white"
 * @param {(document: PositionDocument, draft: Draft) => void} mutate edits a copy
 * @param {string} [gesture] edits in a row with the same one are one step of undo: a drag
 */
export function change(label, mutate, gesture = '') {
	const before = untracked(() => documentNow.value);
	if (!before) return;
	const pinnedBefore = untracked(() => pinned.value);
	const draft = structuredClone({ document: before, pinned: pinnedBefore });
	mutate(draft.document, draft);
	batch(() => {
		const last = done.value.at(-1);
		const goesOn = gesture !== '' && last?.gesture === gesture;
		if (!goesOn) {
			const step = { label, document: before, pinned: pinnedBefore, gesture };
			done.value = [...done.value, step];
		}
		undone.value = [];
		documentNow.value = draft.document;
		pinned.value = draft.pinned;
		saving.value = 'changed';
	});
}

/** Takes the last edit back. */
export function undo() {
	swap(done, undone);
}

/** Makes the edit again that was last taken back. */
export function redo() {
	swap(undone, done);
}

/**
 * @param {import('../lib/view.js').Signal<Step[]>} from
 * @param {import('../lib/view.js').Signal<Step[]>} to
 */
function swap(from, to) {
	const step = from.value.at(-1);
	const now = documentNow.value;
	if (!step || !now) return;
	batch(() => {
		from.value = from.value.slice(0, -1);
		to.value = [...to.value, { ...step, document: now, pinned: pinned.value, gesture: '' }];
		documentNow.value = step.document;
		pinned.value = step.pinned;
		saving.value = 'changed';
	});
}

/**
 * Opens another position: nothing of the one before can be undone in it.
 * @param {PositionDocument} document
 * @param {FileState} place
 */
export function openDocument(document, place) {
	batch(() => {
		done.value = [];
		undone.value = [];
		documentNow.value = document;
		pinned.value = [];
		file.value = place;
		saving.value = 'saved';
		tableWindow.value = null;
		selection.value = 'white';
		hidden.value = false;
		preview.value = null;
		fault.value = null;
	});
}
