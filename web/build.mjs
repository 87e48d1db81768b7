// SPDX-License-Identifier: MIT
// Bundles the page into dist/: index.html, app.js, app.css, icon.svg. `--watch` keeps at it.
import { build, context } from 'esbuild'
import { copyFileSync, mkdirSync } from 'node:fs'

const out = new URL('./dist/', import.meta.url).pathname
const options = {
  absWorkingDir: new URL('.', import.meta.url).pathname,
  entryPoints: [
    { in: 'src/main.tsx', out: 'app' },
    { in: 'src/css/app.css', out: 'app' },
  ],
  bundle: true,
  minify: true,
  format: 'iife',
  target: ['chrome100', 'firefox100', 'safari15'],
  jsx: 'automatic',
  jsxImportSource: 'preact',
  charset: 'utf8',
  legalComments: 'none',
  outdir: out,
  logLevel: 'warning',
}
mkdirSync(out, { recursive: true })
for (const name of ['index.html', 'icon.svg']) copyFileSync(new URL('src/' + name, import.meta.url), out + name)
if (process.argv.includes('--watch')) await (await context(options)).watch()
else await build(options)
