// SPDX-License-Identifier: MIT
// How long a person waits for the page, in a real browser: from the key press in a field to the changed
// number painted, and from the start of the program to the first paint. Prints a table; no test.
// Usage: node speed.mjs [ROUNDS], WATTWRIGHT naming the program (a release build).
import { loadavg } from 'node:os'

import { browser, fromDist, Program, settled } from './support.mjs'

const rounds = Number(process.argv[2] ?? 21)
const binary = process.env.WATTWRIGHT
const sorted = (times) => [...times].sort((a, b) => a - b)
const median = (times) => sorted(times)[Math.floor(times.length / 2)]
const ninth = (times) => sorted(times)[Math.floor(times.length * 0.9)]
const row = (name, times) =>
  console.log(`| ${name} | ${times.length} | ${median(times).toFixed(0)} | ${ninth(times).toFixed(0)} | ${Math.max(...times).toFixed(0)} |`)

/// In the page: notes when Enter went down and when a frame with the changed number was through.
function watch() {
  const figure = () => [...document.querySelectorAll('.block .cell-figure .fig:first-child')].map((e) => e.textContent).join('|')
  const foot = () => document.querySelector('.cell-name .cell-foot').textContent
  window.measured = new Promise((good) => {
    window.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter') return
      const was = figure()
      const look = new MutationObserver(() => {
        if (figure() === was) return
        look.disconnect()
        // The frame after this change; a message sent within it comes once it is painted.
        requestAnimationFrame(() => {
          const channel = new MessageChannel()
          channel.port1.onmessage = () => good({ figure: performance.now() - event.timeStamp, foot: foot() })
          channel.port2.postMessage(0)
        })
      })
      look.observe(document.querySelector('.block'), { subtree: true, childList: true, characterData: true, attributes: true })
    }, { capture: true, once: true })
  })
}

async function edits(chrome, storageState, base, build) {
  const context = await chrome.newContext({ viewport: { width: 1440, height: 900 }, storageState })
  await fromDist(context)
  const page = await context.newPage()
  await page.goto(base + `#/b/${build}/donor`)
  const field = page.locator('[id="f-rider-mass"]')
  await field.waitFor()
  await settled(page)
  await page.waitForFunction(() => !document.querySelector('.block .pending'))
  const painted = [], bands = []
  for (let i = 0; i < rounds; ++i) {
    // Small steps and large ones, so that some number in the title block moves each time.
    await field.fill(`${70 + ((i * 17) % 50)} kg`)
    await page.evaluate(watch)
    const began = Date.now()
    await field.press('Enter')
    const { figure } = await page.evaluate(() => window.measured)
    painted.push(figure)
    await page.waitForFunction(() => !document.querySelector('.block .pending'))
    bands.push(Date.now() - began)
    await settled(page)
    await page.waitForTimeout(150)
  }
  await context.close()
  return { painted, bands }
}

async function firstPaint(chrome) {
  const program = new Program(binary)
  const began = Date.now()
  await program.start()
  const printed = Date.now() - began
  const context = await chrome.newContext({ viewport: { width: 1440, height: 900 } })
  const page = await context.newPage()
  await page.goto(program.address)
  await page.waitForSelector('.where')
  const paint = await page.evaluate(() => performance.timeOrigin + performance.getEntriesByName('first-contentful-paint')[0].startTime)
  const asked = await page.evaluate(() => performance.timeOrigin + performance.now())
  await context.close()
  await program.end()
  return { printed, paint: paint - began, question: asked - began }
}

const load = () => loadavg().map((l) => l.toFixed(2)).join(', ')
console.log('load before: ' + load())
const chrome = await browser()
console.log('\n| ms | times | median | nine in ten | most |\n| --- | --- | --- | --- | --- |')
const starts = []
for (let i = 0; i < 11; ++i) starts.push(await firstPaint(chrome))
row('start of the program to its address', starts.map((s) => s.printed))
row('start of the program to the first paint', starts.map((s) => s.paint))
row('start of the program to the first question', starts.map((s) => s.question))

const program = new Program(binary)
await program.start()
const context = await chrome.newContext()
await fromDist(context)
const first = await context.newPage()
await first.goto(program.address)
await first.waitForSelector('h1')
for (const demo of ['commuter', 'reference', 'beginner']) {
  const build = await first.evaluate(async (name) => {
    const body = JSON.stringify({ name, where: 'riding', demo: name })
    const reply = await fetch('/api/builds', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body })
    return (await reply.json()).build
  }, demo)
  const { painted, bands } = await edits(chrome, await context.storageState(), program.base, build)
  row(demo + ': Enter to the number painted', painted)
  row(demo + ': Enter to the bands', bands)
}
await chrome.close()
await program.end()
console.log('\nload after: ' + load())
