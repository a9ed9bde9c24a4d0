// @ts-check
// How much larger drawings stand for a class, so that their smallest letters can be read; on a
// wide screen they grow with the page's own letters.

import { computed, signal } from '../../lib/view.js';
import { classView } from '../state.js';

const LEAST = 0.03; // of a letter, as a share of the screen's height
const SMALLEST = 12; // letters of the server's drawings [px]

const screenHeight = signal(innerHeight);
addEventListener('resize', () => (screenHeight.value = innerHeight));

const WIDE = 1.125; // as the page's letters grow there, in tokens.css
const wide = matchMedia('(min-width: 1700px)');
const isWide = signal(wide.matches);
wide.addEventListener('change', () => (isWide.value = wide.matches));

/** Screen pixels for a pixel of the server's drawings. */
export const magnified = computed(() =>
	classView.value ? Math.max((LEAST * screenHeight.value) / SMALLEST, 1) : isWide.value ? WIDE : 1,
);
