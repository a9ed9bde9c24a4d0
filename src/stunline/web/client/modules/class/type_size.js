// @ts-check
// How much larger drawings stand for a class, so that their smallest letters can be read.

import { computed, signal } from '../../lib/view.js';
import { classView } from '../state.js';

const LEAST = 0.03; // of a letter, as a share of the screen's height
const SMALLEST = 12; // letters of the server's drawings [px]

const screenHeight = signal(innerHeight);
addEventListener('resize', () => (screenHeight.value = innerHeight));

/** Screen pixels for a pixel of the server's drawings. */
export const magnified = computed(() =>
	classView.value ? Math.max((LEAST * screenHeight.value) / SMALLEST, 1) : 1,
);
