// SPDX-License-Identifier: MIT
// Takes the pictures of the README: `node pictures.mjs FOLDER`, WATTWRIGHT naming the program.
import { join } from 'node:path'

import { browser, fromDist, Program, settled, until } from './support.mjs'

const folder = process.argv[2]
const program = new Program(process.env.WATTWRIGHT)
await program.start()
const chrome = await browser()

const playGearing = async (page) => {
  for (let i = 0; i < 5; ++i) await page.getByRole('button', { name: 'one tooth fewer, rear' }).click()
  await page.waitForSelector('.gear-table .moved')
}

const chooseCells = async (page) => {
  for (const place of await page.locator('.place').all()) {
    const name = await place.locator('.place-name').textContent()
    await place.locator('input').setChecked(/^(controller|cell|cells in)/.test(name))
  }
  await page.getByRole('button', { name: 'Search', exact: true }).click()
  await page.locator('.pick-card').nth(1).waitFor()
  await until(page, () => !document.querySelector('.ladder progress'))
  await page.locator('.scatter-limits input').nth(1).focus()
  for (let i = 0; i < 14; ++i) await page.keyboard.press('ArrowRight')
  await page.locator('.scatter svg path.sc-off').first().waitFor()
  await page.evaluate(() => window.scrollTo(0, 0))
}

const firstStep = (page) => page.locator('.step').first().evaluate((s) => s.scrollIntoView())
const printed = (page) => until(page, () => document.querySelector('.print-page img')?.naturalWidth > 100)

// name, demo, view, width, paper, what to do first
const pictures = [
  ['first-minute', '', 'start', 1440, 'light'],
  ['answer', 'dream', 'now', 1440, 'light'],
  ['choose', 'commuter', 'choose', 1440, 'light', chooseCells],
  ['fit', 'beginner', 'fit', 1440, 'light'],
  ['gearing', 'commuter', 'parts/gearing', 1440, 'dark', playGearing],
  ['road', 'commuter', 'road', 1440, 'dark'],
  ['wiring', 'trail', 'wiring', 1440, 'light', printed],
  ['steps', 'trail', 'steps', 1440, 'dark'],
  ['phone-answer', 'dream', 'now', 390, 'light'],
  ['phone-measure', 'beginner', 'donor', 390, 'light'],
  ['phone-fit', 'beginner', 'fit', 390, 'dark'],
  ['phone-steps', 'trail', 'steps', 390, 'light', firstStep],
]

const context = await chrome.newContext()
await fromDist(context)
const first = await context.newPage()
await first.goto(program.address)
await first.waitForSelector('h1')
const ids = {}
for (const demo of ['beginner', 'commuter', 'dream', 'trail']) {
  ids[demo] = await first.evaluate(async (name) => {
    const body = JSON.stringify({ name, where: 'riding', demo: name })
    const reply = await fetch('/api/builds', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body })
    const { build } = await reply.json()
    await (await fetch(`/api/builds/${build}?ready=full`)).json()
    return build
  }, demo)
}
const storageState = await context.storageState()

for (const [name, demo, view, width, colorScheme, act] of pictures) {
  const height = width > 900 ? 900 : 844
  const there = await chrome.newContext({ viewport: { width, height }, colorScheme, hasTouch: width < 900, storageState })
  await fromDist(there)
  const page = await there.newPage()
  await page.goto(program.base + (demo ? `#/b/${ids[demo]}/${view}` : '#/' + view))
  await page.waitForSelector('h1')
  if (demo) await settled(page)
  if (['now', 'donor', 'fit'].includes(view) && width > 900) await page.waitForSelector('.view-side svg [data-part]')
  if (view === 'road') await page.waitForSelector('#plot-thrust .plot-svg svg')
  if (act) await act(page)
  await page.waitForTimeout(900)
  await page.screenshot({ path: join(folder, name + '.png') })
  await there.close()
  console.log(name)
}
await chrome.close()
await program.end()
