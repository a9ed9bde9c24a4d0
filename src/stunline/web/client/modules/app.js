// @ts-check
// The whole page: puts its parts together and starts them.

import { html, render, useEffect, useRef } from '../lib/view.js';
import { magnified } from './class/type_size.js';
import { ClassView } from './class_view.js';
import { FilesDialog, FilesMenu, FileTitle, startFiles } from './files.js';
import { Gauge, gaugeAt } from './gauge.js';
import { startKeys } from './keys.js';
import { startLive } from './live.js';
import { Notices } from './notices.js';
import { markMoreBelow } from './panel/more_below.js';
import { Panel } from './panel/panel.js';
import { Foot } from './plan/foot.js';
import { Plan } from './plan.js';
import { startSession } from './session.js';
import { classView, hand, notice, redo, redoLabel, undo, undoLabel } from './state.js';
import { Strip } from './strip.js';

function Head() {
	return html`
		<header class="page-head">
			<h1 class="brand">stunline</h1>
			<${FileTitle} />
			<nav aria-label="Position">
				<button disabled=${!undoLabel.value} onClick=${undo} title=${undoLabel.value ?? ''}>Undo</button>
				<button disabled=${!redoLabel.value} onClick=${redo} title=${redoLabel.value ?? ''}>Redo</button>
				<${FilesMenu} />
			</nav>
		</header>
	`;
}

/** The strike and what it does, which may be longer than the screen is high. */
function PanelColumn() {
	const column = useRef(/** @type {HTMLElement | null} */ (null));
	useEffect(() => (column.current ? markMoreBelow(column.current) : undefined), []);
	return html`<aside class="page-panel" ref=${column} aria-label="Strike and what it does"><${Panel} /></aside>`;
}

function Page() {
	return html`
		<div class="page" style=${{ '--magnified': magnified.value }} data-hand=${hand.value} data-class-view=${classView.value ? '' : undefined}
			data-gauge=${gaugeAt.value === null ? undefined : ''}>
			<${Head} />
			<main class="page-plan"><${Plan} /></main>
			<${Foot} />
			<${PanelColumn} />
			<section class="page-strip" aria-label="Pace"><${Strip} /></section>
			<${FilesDialog} />
			<${ClassView} />
			<${Gauge} />
			<${Notices} />
		</div>
	`;
}

const root = document.getElementById('page');
if (root) render(html`<${Page} />`, root);
startKeys();
startLive();
startSession()
	.then(startFiles)
	.catch((error) => {
		notice.value = { words: error.message };
	});
