// Makes the one library file that the page ships, from the pinned packages of this folder.
// Run it with `npm run library` after a change of their versions, and commit what it writes.
import { readFile } from 'node:fs/promises';
import { build } from 'esbuild';

const here = new URL('.', import.meta.url);
const target = new URL('../../src/stunline/web/client/lib/view.js', here);

/** @param {string} name @returns {Promise<string>} the package's name and version */
async function named(name) {
	const text = await readFile(new URL(`node_modules/${name}/package.json`, here), 'utf8');
	return `${name} ${JSON.parse(text).version}`;
}

const packages = await Promise.all(
	['preact', 'htm', '@preact/signals', '@preact/signals-core'].map(named),
);
await build({
	entryPoints: [new URL('library_entry.mjs', here).pathname],
	outfile: target.pathname,
	bundle: true,
	minify: true,
	format: 'esm',
	target: 'es2022',
	legalComments: 'none',
	banner: {
		js: `// ${packages.join(', ')}, bundled by tools/client; licences: docs/licences.md`,
	},
});
