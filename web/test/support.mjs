// SPDX-License-Identifier: MIT
// Starts the real program on a fresh garage and a browser beside it.
import assert from 'node:assert/strict'
import { spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

import { chromium } from 'playwright-core'

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

export class Program {
  constructor(binary) {
    this.binary = binary
    this.folder = mkdtempSync(join(tmpdir(), 'wattwright-page-'))
    this.port = 0
  }

  /// Resolves with the address that it prints.
  start(more = []) {
    const garage = join(this.folder, 'garage.db')
    const args = ['serve', '--port', String(this.port), '--garage', garage, '--no-browser', ...more]
    this.process = spawn(this.binary, args, { stdio: ['ignore', 'pipe', 'inherit'], env: { ...process.env, LC_ALL: 'C.UTF-8' } })
    return new Promise((good, bad) => {
      let text = ''
      this.process.stdout.on('data', (bytes) => {
        text += bytes
        const found = /http:\/\/127\.0\.0\.1:(\d+)\/\?key=\S+/.exec(text)
        if (!found) return
        this.port = Number(found[1])
        this.address = found[0]
        good(found[0])
      })
      this.process.on('exit', (code) => bad(new Error('the program ended with ' + code + ': ' + text)))
    })
  }

  stop() {
    this.process.removeAllListeners('exit')
    const gone = new Promise((good) => this.process.once('exit', good))
    this.process.kill('SIGTERM')
    return gone
  }

  async end() {
    if (this.process.exitCode === null) await this.stop()
    rmSync(this.folder, { recursive: true, force: true })
  }

  get base() {
    return 'http://127.0.0.1:' + this.port + '/'
  }
}

export function browser() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
      '--disable-component-update', '--disable-sync',
    ],
  })
}

const kinds = { html: 'text/html; charset=utf-8', js: 'text/javascript', css: 'text/css', svg: 'image/svg+xml' }

/// With PAGE_FROM=dist the page's own files come from web/dist, not from the program: to work on the
/// page without building the program anew. The program's headers stay.
export async function fromDist(context) {
  if (process.env.PAGE_FROM !== 'dist') return
  await context.route(/^http:\/\/[^/]+\/(app\.js|app\.css|icon\.svg)?$/, async (route) => {
    const name = new URL(route.request().url()).pathname.slice(1) || 'index.html'
    const response = await route.fetch({ maxRedirects: 0 })
    if (response.status() !== 200) return route.fulfill({ response })
    const body = readFileSync(new URL('../dist/' + name, import.meta.url))
    const headers = { ...response.headers(), 'content-type': kinds[name.split('.').pop()], 'content-length': String(body.length) }
    await route.fulfill({ status: 200, headers, body })
  })
}

/// A page that collects what goes wrong in it.
export async function pageOf(context, errors) {
  const page = await context.newPage()
  page.setDefaultTimeout(20000)
  // PAGE_SLOWER=8 makes the page's processor so many times slower: shows what a test takes for granted.
  if (process.env.PAGE_SLOWER) {
    const session = await context.newCDPSession(page)
    await session.send('Emulation.setCPUThrottlingRate', { rate: Number(process.env.PAGE_SLOWER) })
  }
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text() + ' ' + message.location().url)
  })
  page.on('pageerror', (error) => errors.push(String(error)))
  return page
}

/// Serious and critical findings of axe, as lines. Small shapes inside a drawing have an equal,
/// larger button in the row of parts below it, so the size of a target is not asked of them.
export async function axeFindings(page) {
  await page.evaluate(axe)
  const found = await page.evaluate(async () => {
    const result = await window.axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
    })
    return result.violations.flatMap((v) => v.nodes.map((n) => ({ id: v.id, impact: n.impact, at: n.target.join(' '), html: n.html })))
  })
  return found
    .filter((f) => f.impact === 'serious' || f.impact === 'critical')
    .filter((f) => !(f.id === 'target-size' && f.at.includes('.view-svg')))
    .map((f) => `${f.id} (${f.impact}): ${f.at} ${f.html.slice(0, 140)}`)
}

/// Two frames on: what a key or a press has moved is painted by then.
const painted = (page) =>
  page.evaluate(() => new Promise((good) => requestAnimationFrame(() => requestAnimationFrame(good))))

/// Waits until the program has answered everything that was sent. Right after a key the page still
/// says 'saved' of the state before it, so it looks from the second frame on.
export async function settled(page) {
  await painted(page)
  await until(page, () => /saved/.test(document.querySelector('.cell-name .cell-foot')?.textContent ?? ''))
}

/// The page answers in a later frame, and on a loaded machine much later: asks until it holds, and
/// after twenty seconds says how it stood.
export async function soon(holds) {
  const end = Date.now() + 20000
  for (;;) {
    try {
      return await holds()
    } catch (error) {
      if (error.code !== 'ERR_ASSERTION' || Date.now() > end) throw error
      await new Promise((later) => setTimeout(later, 30))
    }
  }
}

/// Asks the page until `holds` is true there. What `holds` looks at may not be in the page yet, and the
/// page may be loading: where it trips over that, it does not hold yet.
export const until = (page, holds, of) =>
  soon(async () => {
    const [so, why] = await page.evaluate(holds, of).then((is) => [is, ''], (error) => [false, error.message])
    assert.ok(so, `it never held: ${holds} ${why}`)
  })

export const revision = async (page) =>
  Number(/revision (\d+)/.exec(await page.textContent('.cell-name .cell-foot'))[1])
