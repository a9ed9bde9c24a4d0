// @ts-check
// The whole page: puts its parts together and starts them.

import { html, render } from '../lib/view.js';
import { ClassView, startClassView } from './class_view.js';
import { FilesDialog, FilesMenu, startSaving } from './files.js';
import { startKeys } from './keys.js';
import { startLive } from './live.js';
import { Notices } from './notices.js';
import { Panel } from './panel/panel.js';
import { Foot } from './plan/foot.js';
import { Plan } from './plan.js';
import { startSession } from './session.js';
import { classView, documentNow, hand, notice, redo, redoLabel, undo, undoLabel } from './state.js';
import { Strip } from './strip.js';

function Head() {
	return html`
		<header class="page-head">
			<h1 class="brand">stunline</h1>
			<p class="position-title">${documentNow.value?.title ?? ''}</p>
			<nav aria-label="Position">
				<button disabled=${!undoLabel.value} onClick=${undo} title=${undoLabel.value ?? ''}>Undo</button>
				<button disabled=${!redoLabel.value} onClick=${redo} title=${redoLabel.value ?? ''}>Redo</button>
				<${FilesMenu} />
			</nav>
		</header>
	`;
}

function Page() {
	return html`
		<div class="page" data-hand=${hand.value} data-class-view=${classView.value ? '' : undefined}>
			<${Head} />
			<main class="page-plan"><${Plan} /></main>
			<${Foot} />
			<aside class="page-panel" aria-label="Strike and what it does"><${Panel} /></aside>
			<section class="page-strip" aria-label="Pace"><${Strip} /></section>
			<${FilesDialog} />
			<${ClassView} />
			<${Notices} />
		</div>
	`;
}

const root = document.getElementById('page');
if (root) render(html`<${Page} />`, root);
startKeys();
startLive();
startClassView();
startSaving();
startSession().catch((error) => {
	notice.value = { words: error.message };
});
