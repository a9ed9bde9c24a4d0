// @ts-check
// Live plays over one WebSocket: whenever anything changes the newest state is sent, one at a
// time; the answers become signals. Reconnects by itself.

import { batch, effect, signal } from '../lib/view.js';
import {
	answer,
	classView,
	connected,
	documentNow,
	doubtShown,
	engine,
	fault,
	held,
	hidden,
	pinned,
	planSize,
	preview,
	strip,
	stripIsOld,
	stripOf,
	stripWidth,
	tableWindow,
	theme,
	waysDrawn,
	words,
} from './state.js';
import { hasLeftRuler, needsStrip, stripArrived, stripAsked, stripLost } from './strip/wanted.js';

/** The plan's layers as SVG, by name, as they stand now. */
export const layers = signal(/** @type {Record<string, string>} */ ({}));
/** The whole table, small, as an SVG picture. */
export const key = signal('');
/** The window and scale in which the layers are drawn. */
export const drawn = signal(
	/** @type {{ window: import('./state.js').TableWindow, scale: number, play: number } | null} */ (
		null
	),
);
/** Balls as the layers show them. */
export const ballsDrawn = signal(
	/** @type {Record<string, import('./state.js').BallShown>} */ ({}),
);
/** Where the ball in the fault's way could stand. */
export const nearestFree = signal(
	/** @type {{ ball: string, at: import('./state.js').Point } | null} */ (null),
);

const FIRST_WAIT = 250; // before trying to connect again [ms]
const LONGEST_WAIT = 4000; // [ms]

/** @type {Record<string, string>} */
let hashes = {};
/** @type {WebSocket | null} */
let socket = null;
let play = 0;
let inFlight = 0;
let wait = FIRST_WAIT;
/** @type {Record<string, any> | null} */
let waiting = null;
/** The window in which the server framed the shot is being taken over: no reason to ask again. */
let framing = false;
/** Whether what is in flight asks for a framed window; an answer for another is no frame. */
let asksForFrame = true;
/** When requests were sent, for the benchmark of the page. @type {(play: number, what: string) => void} */
let witness = () => {};

/** @param {(play: number, what: string) => void} watch called as requests leave and answers are in */
export function watchPlays(watch) {
	witness = watch;
}

/** Keeps the server playing what the page shows, from now on. */
export function startLive() {
	connect();
	effect(() => {
		const wish = wishNow();
		if (!wish || framing) return;
		waiting = wish;
		pump();
	});
}

/** What is wanted now; null before there is anything to play. */
function wishNow() {
	const document = documentNow.value;
	const size = planSize.value;
	if (!document || size[0] < 50 || size[1] < 50) return null;
	const shown = preview.value
		? { ...document, strike: struck(document.strike, preview.value) }
		: document;
	return {
		document: shown,
		drawing: {
			window: tableWindow.value,
			size,
			theme: theme.value,
			pinned: pinned.value,
			ways: waysDrawn.value,
			hidden: hidden.value,
			words: words.value,
			doubt: doubtShown.value && words.value && !preview.value,
			signs: !classView.value,
		},
		held: held.value,
		strip: preview.value ? null : stripOf.value,
		strip_width: stripWidth.value >= 50 ? stripWidth.value : null,
		second_ruler: !classView.value,
	};
}

/**
 * A strike with some keys changed: a height takes the place of an arrival and the other way round.
 * @param {Record<string, unknown>} strike
 * @param {import('./state.js').PinnedStrike} keys
 */
export function struck(strike, keys) {
	const changed = { ...strike, ...keys };
	if ('height' in keys) delete changed.arrive;
	if ('arrive' in keys) delete changed.height;
	return changed;
}

function pump() {
	if (!waiting || inFlight || socket?.readyState !== WebSocket.OPEN) return;
	play += 1;
	inFlight = play;
	asksForFrame = waiting.drawing.window === null;
	const wantsStrip = needsStrip(waiting);
	if (wantsStrip) stripAsked(waiting, play);
	const drawing = { ...waiting.drawing, have: hashes };
	const message = { ...waiting, play, drawing, strip: wantsStrip ? waiting.strip : null };
	waiting = null;
	witness(play, 'sent');
	socket.send(JSON.stringify(message));
}

function connect() {
	const scheme = location.protocol === 'https:' ? 'wss' : 'ws';
	const fresh = new WebSocket(`${scheme}://${location.host}/live`);
	socket = fresh;
	fresh.onopen = () => {
		wait = FIRST_WAIT;
		inFlight = 0;
		stripLost();
		connected.value = true;
		waiting ??= wishNow();
		pump();
	};
	fresh.onmessage = (message) => receive(JSON.parse(message.data));
	fresh.onclose = () => {
		connected.value = false;
		inFlight = 0;
		setTimeout(connect, wait);
		wait = Math.min(2 * wait, LONGEST_WAIT);
	};
}

/** @param {any} message */
function receive(message) {
	if (message.engine) {
		engine.value = message.engine.state === 'ready' ? null : message.engine;
		return;
	}
	if (message.strip !== undefined) {
		takeStrip(message);
		return;
	}
	if (message.play !== null && message.play !== inFlight) return;
	witness(message.play, 'answered');
	inFlight = 0;
	if (message.error) {
		fault.value = message.error;
		stripIsOld.value = strip.peek() !== null;
		stripLost();
	} else takePlay(message);
	stretchRuler();
	pump();
}

/** The newest strip counts; one that it has overtaken stands in for it at most. @param {any} message */
function takeStrip(message) {
	const rank = stripArrived(message);
	if (rank === 'late') return;
	if (rank === 'newest') stripIsOld.value = Boolean(message.fault) && strip.peek() !== null;
	if (message.fault) return;
	strip.value = message;
	stretchRuler();
	pump();
}

/** A pace that was moved off the ruler needs a longer one. */
function stretchRuler() {
	const wish = waiting ?? wishNow();
	if (wish && hasLeftRuler(wish, answer.peek()?.strike.pace)) waiting = wish;
}

/**
 * Takes a live answer, also the opening shot's, which comes over HTTP.
 * @param {any} message
 */
export function takePlay(message) {
	hashes = { ...hashes, ...message.hashes };
	batch(() => {
		if (message.window) {
			drawn.value = { window: message.window, scale: message.scale, play: message.play };
		}
		if (message.key) key.value = message.key;
		if (message.balls) ballsDrawn.value = message.balls; // none with what may not be asked
		layers.value = { ...layers.value, ...message.layers };
		nearestFree.value = message.nearest_free ?? null;
		fault.value = message.fault ?? null;
		if (!message.fault) answer.value = message;
	});
	const frames = asksForFrame && tableWindow.peek() === null;
	if (!message.fault && message.window && frames) keepFrame(message.window);
	witness(message.play, 'drawn');
}

/** What the server has framed stays as it is, however the way of the white then stretches. */
function keepFrame(/** @type {import('./state.js').TableWindow} */ window) {
	framing = true;
	tableWindow.value = window;
	framing = false;
}
