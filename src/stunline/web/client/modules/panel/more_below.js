// @ts-check
// Whether the panel goes on below its lower edge, so that its last lines fade instead of being cut.

const LEAST = 4; // that much hidden is nothing [px]

/** Marks the element while there is more of it below. @param {HTMLElement} panel @returns {() => void} */
export function markMoreBelow(panel) {
	const mark = () => {
		const hidden = panel.scrollHeight - panel.clientHeight - panel.scrollTop;
		panel.toggleAttribute('data-more', hidden > LEAST);
	};
	const sizes = new ResizeObserver(mark);
	const watch = () => {
		sizes.disconnect();
		for (const one of [panel, ...panel.children]) sizes.observe(one);
		mark();
	};
	const parts = new MutationObserver(watch);
	parts.observe(panel, { childList: true });
	panel.addEventListener('scroll', mark, { passive: true });
	watch();
	return () => {
		sizes.disconnect();
		parts.disconnect();
		panel.removeEventListener('scroll', mark);
	};
}
