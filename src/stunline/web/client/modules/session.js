// @ts-check
// The page's beginning and what it wants to find again: the last position, layout, theme.

import { batch, effect } from '../lib/view.js';
import * as api from './api.js';
import { takePlay } from './live.js';
import {
	documentNow,
	doubtShown,
	engine,
	file,
	hand,
	hidden,
	openDocument,
	pinned,
	stripOf,
	systemIsDark,
	tableWindow,
	theme,
	themeChoice,
} from './state.js';
import { openStored } from './stored.js';

const KEPT_AFTER = 400; // the state is sent so long after it last changed [ms]

/** Opens what was open last, or what the command named, or the opening shot. */
export async function startSession() {
	watchSystem();
	const kept = await api.pageState();
	const state = kept.state ?? {};
	if (state.theme) themeChoice.value = state.theme;
	if (state.hand) hand.value = state.hand;
	doubtShown.value = state.doubt ?? true;
	if (kept.engine && kept.engine.state !== 'ready') engine.value = kept.engine;
	const name = kept.open ?? state.position ?? null;
	if (name === null || !(await openStored(name))) await openOpening();
	else if (!kept.open) restore(state);
	keepState();
}

/** The opening shot is precomputed: it stands there while the engine compiles. */
async function openOpening() {
	const shot = await api.opening(theme.value);
	takePlay(shot);
	openDocument(shot.document, { name: shot.name ?? null, revision: null, shipped: true });
}

/** @param {Record<string, any>} state */
function restore(state) {
	batch(() => {
		pinned.value = state.pinned ?? [];
		hidden.value = state.hidden ?? false;
		tableWindow.value = state.window ?? null;
		if (state.strip !== undefined) stripOf.value = state.strip;
	});
}

function keepState() {
	let timer = 0;
	let first = true;
	effect(() => {
		const state = {
			position: file.value.name,
			theme: themeChoice.value,
			hand: hand.value,
			doubt: doubtShown.value,
			pinned: pinned.value,
			hidden: hidden.value,
			window: tableWindow.value,
			strip: stripOf.value,
		};
		if (first) {
			first = false;
			return;
		}
		clearTimeout(timer);
		timer = setTimeout(() => {
			api.keepPageState(state).catch(() => {}); // the lost connection is shown already
		}, KEPT_AFTER);
	});
}

function watchSystem() {
	matchMedia('(prefers-color-scheme: dark)').addEventListener('change', (event) => {
		systemIsDark.value = event.matches;
	});
	effect(() => {
		document.documentElement.dataset.theme = theme.value;
	});
	effect(() => {
		const title = documentNow.value?.title;
		document.title = title ? `${title}: stunline` : 'stunline';
	});
}
