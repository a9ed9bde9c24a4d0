// @ts-check
// What the position becomes: a practice sheet, full-size pages, a picture, a link.

import { html, useSignal } from '../../lib/view.js';
import { fetchFile } from '../api.js';
import { documentNow, file, notice } from '../state.js';
import { linkTo } from './link.js';
import { SidePage } from './side_page.js';

const KINDS = [
	['sheet', 'Practice sheet', 'PDF, to lay out and tick off'],
	['fullsize', 'Full size', 'PDF, pages to lie on the table'],
	['svg', 'Plan as SVG', 'for slides and drawings'],
	['png', 'Plan as PNG', 'for messages'],
	['pdf', 'Plan as PDF', 'for print'],
];
/** How the files' names end. @type {Record<string, string>} */
const ENDINGS = {
	sheet: '-sheet.pdf',
	fullsize: '-full-size.pdf',
	svg: '.svg',
	png: '.png',
	pdf: '.pdf',
};
const PAPERS = [
	['a4', 'A4'],
	['a3', 'A3'],
	['letter', 'Letter'],
];

const KEPT_FOR = 60_000; // a made file stays at hand for the browser's download [ms]

/** @type {AbortController | null} */
let making = null;

export function PrintPage() {
	const paper = useSignal('a4');
	const large = useSignal(false);
	return html`<${SidePage} title="Print and export" kind="print">
		<div class="print-choices">
			<label>Paper <select aria-label="Paper" value=${paper.value}
				onChange=${(/** @type {Event} */ event) => (paper.value = /** @type {HTMLSelectElement} */ (event.target).value)}
				>${PAPERS.map(([key, words]) => html`<option value=${key}>${words}</option>`)}</select></label>
			<label><input type="checkbox" checked=${large.value}
				onChange=${(/** @type {Event} */ event) => (large.value = /** @type {HTMLInputElement} */ (event.target).checked)} /> Large print</label>
		</div>
		<ul class="print-kinds">${KINDS.map(
			([
				kind,
				words,
				use,
			]) => html`<li><button onClick=${() => make(String(kind), String(words), paper.value, large.value)}
				>${words}</button><span class="small soft">${use}</span></li>`,
		)}
			<li><button onClick=${copyLink}>Copy a link</button><span class="small soft">the position itself, in an address</span></li>
		</ul>
	</${SidePage}>`;
}

/**
 * Has the server make it, and hands it to the browser's downloads.
 * @param {string} kind @param {string} words @param {string} [paper] @param {boolean} [large]
 */
export async function make(kind, words, paper = 'a4', large = false) {
	making?.abort();
	const mine = new AbortController();
	making = mine;
	notice.value = { words: `${words}: being made.`, undo: () => mine.abort(), label: 'Stop' };
	try {
		const wish = { document: documentNow.value, kind, paper, large_print: large, date: today() };
		offer(
			await fetchFile('/api/export', wish, mine.signal),
			`${file.value.name ?? 'position'}${ENDINGS[kind]}`,
		);
		notice.value = { words: `${words}: saved with the browser’s downloads.` };
	} catch (error) {
		if (making !== mine) return; // another one is being made already, and told
		const why = mine.signal.aborted ? `${words}: stopped.` : /** @type {Error} */ (error).message;
		notice.value = { words: why };
	}
}

const today = () =>
	new Date().toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });

/** @param {Blob} blob @param {string} name */
function offer(blob, name) {
	const link = document.createElement('a');
	link.href = URL.createObjectURL(blob);
	link.download = name;
	link.click();
	setTimeout(() => URL.revokeObjectURL(link.href), KEPT_FOR);
}

async function copyLink() {
	const link = await linkTo(documentNow.value);
	try {
		await navigator.clipboard.writeText(link);
		notice.value = {
			words: 'The link is copied. It holds the whole position; opened, it becomes a new one.',
		};
	} catch {
		history.replaceState(null, '', link.slice(location.origin.length));
		notice.value = {
			words: 'The browser keeps the clipboard closed: the link stands in the address bar now.',
		};
	}
}
