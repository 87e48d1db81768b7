// SPDX-License-Identifier: MIT
// What is worth buying, against the real program: asked, run, narrowed by hand, taken as a variant.
import assert from 'node:assert/strict'
import { after, before, test } from 'node:test'

import { axeFindings, browser, fromDist, pageOf, Program, settled, soon, until } from './support.mjs'

const binary = process.env.WATTWRIGHT
if (!binary) throw new Error('WATTWRIGHT names the program')
const program = new Program(binary)
const errors = []
let chrome, context, page, id

before(async () => {
  await program.start()
  chrome = await browser()
  context = await chrome.newContext({ viewport: { width: 1440, height: 900 } })
  await fromDist(context)
  page = await pageOf(context, errors)
  await page.goto(program.address)
  await page.waitForSelector('h1')
  id = await page.evaluate(async () => {
    const body = JSON.stringify({ name: 'Commuter', where: 'riding', demo: 'commuter' })
    const reply = await fetch('/api/builds', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body })
    return (await reply.json()).build
  })
  await page.goto(program.base + `#/b/${id}/choose`)
  await page.waitForSelector('.place')
})
after(async () => {
  await chrome?.close()
  await program.end()
})

const forgive = (pattern) => {
  for (let i = errors.length - 1; i >= 0; --i) if (pattern.test(errors[i])) errors.splice(i, 1)
}
const rung = (label, on = page) => on.locator('.rungs > div', { hasText: label }).locator('dd')
const number = (text) => Number(text.replace(/\D/g, ''))
const open = async (...places) => {
  for (const place of await page.locator('.place').all()) {
    const name = (await place.locator('.place-name').textContent()).trim()
    await place.locator('input').setChecked(places.includes(name))
  }
}
/// The search that was begun last is over, and what the page shows is its own.
const over = async (on = page) => {
  await until(on, () => document.querySelector('.rungs') && !document.querySelector('.ladder progress'))
  await until(on, () => document.querySelectorAll('.rungs > div').length === 5)
}
/// Waits until so many are within the wishes: more than, less than, other than.
const within = (more, less = Infinity, other = -1) =>
  until(
    page,
    ([low, high, not]) => {
      const dd = [...document.querySelectorAll('.rungs > div')].find((d) => d.textContent.includes('within'))?.querySelector('dd')
      const n = dd ? Number(dd.textContent.replace(/\D/g, '')) : -1
      return n > low && n < (high ?? Infinity) && n !== not
    },
    [more, less, other],
  )

test('nothing is open: refused where it stands', async () => {
  await open()
  await page.getByRole('button', { name: 'Search', exact: true }).click()
  await page.locator('.choose-go .row-problem').waitFor()
  await soon(async () => assert.match(await page.textContent('.choose-go .row-problem'), /nothing is open/))
  forgive(/400/)
})

test('a limit that is none is told beside it', async () => {
  await open('controller', 'cell or module', 'cells in series', 'cells in parallel')
  const money = page.locator('#must-money')
  const was = await money.inputValue()
  assert.match(was, /10 ?500/)
  await money.fill('plenty')
  await page.getByRole('button', { name: 'Search', exact: true }).click()
  await page.locator('.must.row-bad .row-problem').waitFor()
  await soon(async () => assert.equal(await money.inputValue(), 'plenty', 'nothing typed is lost'))
  await money.fill(was)
  forgive(/400/)
})

test('a search runs, says how far it is, and leaves a few bikes with their reasons', async () => {
  await page.getByRole('button', { name: 'Search', exact: true }).click()
  await page.waitForSelector('.rungs')
  await page.locator('.pick-card').first().waitFor()
  await over()
  await page.locator('.pick-card').nth(1).waitFor()
  await soon(async () => assert.ok(number(await rung('different bikes ridden').textContent()) > 100))
  await soon(async () => assert.ok(number(await rung('within your wishes').textContent()) > 10))
  const first = await page.textContent('.pick-card')
  assert.match(first, /best by what counts for you/)
  assert.match(first, /can kill/)
  assert.match(first, /Take A as a variant/)
  // Figures to shop for, and no name that could be taken for a product.
  await page.locator('.pick-parts summary').first().click()
  const parts = await page.locator('.pick-parts dl').first().textContent()
  assert.match(parts, /to shop for/)
  assert.match(parts, /Ask for the measured capacity/)
  assert.match(parts, /Not below [\d.]+ V/)
  await soon(async () => assert.match(await page.locator('.decisions').textContent(), /think|guess/))
  await soon(async () => assert.match(await page.locator('.measuring').textContent(), /Knowing every figure would be worth/))
  await soon(async () => assert.match(await page.locator('.pick-settle', { hasText: 'Of 100 draws' }).first().textContent(), /holds in \d+/))
  await soon(async () => assert.ok(!/\bsafe\b/i.test(await page.textContent('.choose-stage'))))
})

test('the picture and its table', async () => {
  await page.locator('.scatter svg circle.sc-in').nth(10).waitFor()
  await page.locator('.sc-pick').first().waitFor()
  await soon(async () => assert.match(await page.locator('.scatter svg').getAttribute('aria-label'), /money against distance: \d+ bikes/))
  await page.locator('.scatter select').first().selectOption({ label: 'mass' })
  await until(page, () => /mass against/.test(document.querySelector('.scatter svg').getAttribute('aria-label')))
  await page.locator('.scatter select').first().selectOption({ label: 'money' })
  await page.locator('.scatter summary').click()
  await page.locator('.scatter .numbers tbody tr').nth(5).waitFor()
  await page.locator('.scatter summary').click()
})

test('limits are moved by hand and by keys; nothing is ridden again', async () => {
  const all = number(await rung('within your wishes').textContent())
  const ridden = await rung('different bikes ridden').textContent()
  // By keys, at the slider below the picture.
  const slider = page.locator('.scatter-limits input').nth(1)
  await slider.focus()
  for (let i = 0; i < 15; ++i) await page.keyboard.press('ArrowRight')
  await within(0, all)
  const some = number(await rung('within your wishes').textContent())
  await until(page, () => /^9\d km$/.test(document.querySelector('#must-distance').value))
  await page.locator('.scatter svg path.sc-off').first().waitFor()
  // By hand: the corner is put down in the picture.
  const svg = page.locator('.scatter svg')
  const box = await svg.boundingBox()
  await svg.click({ position: { x: box.width * 0.55, y: box.height * 0.55 } })
  await until(page, (was) => document.querySelector('#must-money').value !== was, '10 500 EUR')
  await within(-1, Infinity, some)
  // And dragged from there.
  const corner = await page.locator('.sc-corner path').boundingBox()
  const was = await page.inputValue('#must-money')
  await page.mouse.move(corner.x + corner.width / 2, corner.y + corner.height / 2)
  await page.mouse.down()
  await page.mouse.move(corner.x + 180, corner.y + 60, { steps: 4 })
  await page.mouse.up()
  await until(page, (v) => document.querySelector('#must-money').value !== v, was)
  await soon(async () => assert.equal(await rung('different bikes ridden').textContent(), ridden))
  await soon(async () => assert.equal(await page.locator('.choose-notes').getByText('looser').count(), 0))
})

test('a looser wish says what it lacks and offers to search again', async () => {
  await page.fill('#must-money', '12000 EUR')
  await page.fill('#must-distance', '70 km')
  await page.locator('.choose-notes', { hasText: 'looser now' }).waitFor()
  const before = number(await rung('within your wishes').textContent())
  await page.getByRole('button', { name: 'Search again with these' }).click()
  await until(page, () => !/looser now/.test(document.querySelector('.choose-notes')?.textContent ?? ''))
  await over()
  await within(before)
})

test('what cannot be had says what must give way, each with its price', async () => {
  await page.fill('#must-distance', '900 km')
  await page.locator('.gives-way li').first().waitFor()
  await soon(async () => assert.match(await page.textContent('.gives-way li'), /distance .* instead of 900 km .*It costs/))
  await page.fill('#must-distance', '80 km')
  await until(page, () => !document.querySelector('.gives-way'))
})

test('up to four beside each other', async () => {
  await page.locator('.pick-card').nth(1).waitFor()
  await page.getByLabel('lay A beside others').check()
  await page.getByLabel('lay B beside others').check()
  const table = page.locator('.pick-beside table')
  await table.waitFor()
  await soon(async () => assert.equal(await table.locator('thead th').count(), 3))
  const rows = await table.locator('tbody tr').count()
  await page.getByLabel('only where they differ').check()
  await until(page, (n) => document.querySelectorAll('.pick-beside tbody tr').length < n, rows)
})

test('why something is not there', async () => {
  const why = page.locator('.why-not')
  await why.locator('select').first().selectOption('cell')
  const which = why.locator('select').nth(1)
  await until(page, () => document.querySelectorAll('.why-not select')[1].options.length > 5)
  await which.selectOption({ index: 2 })
  await why.getByRole('button', { name: 'Why not?' }).click()
  await page.locator('.why-answer p').first().waitFor()
  await soon(async () => assert.ok((await page.textContent('.why-answer')).length > 30))
})

test('a claim is taken apart, and donors are gone through', async () => {
  await page.fill('#claim', '8 kW, 100 km/h, 150 km on 3 kWh')
  await page.getByRole('button', { name: 'Take it apart' }).click()
  await page.locator('.claim-terms li').nth(1).waitFor()
  await page.fill('#claim', 'a fine bike')
  await page.getByRole('button', { name: 'Take it apart' }).click()
  await page.locator('.aside .row-problem').waitFor()
  await page.getByRole('button', { name: 'Go through the classes' }).click()
  await page.locator('.donors tbody tr').nth(3).waitFor()
  forgive(/400/)
})

for (const width of [1440, 390]) {
  test(`accessible, light and dark, ${width} px`, async () => {
    const there = await chrome.newContext({
      viewport: { width, height: width > 900 ? 900 : 844 },
      hasTouch: width < 900,
      storageState: await context.storageState(),
    })
    await fromDist(there)
    const eye = await pageOf(there, errors)
    await eye.goto(program.base + `#/b/${id}/choose`)
    await eye.locator('.pick-card').first().waitFor()
    await settled(eye)
    await eye.locator('.pick-parts summary').first().click()
    const bad = []
    for (const colorScheme of ['light', 'dark']) {
      await eye.emulateMedia({ colorScheme })
      await eye.waitForTimeout(200)
      bad.push(...(await axeFindings(eye)).map((f) => colorScheme + ': ' + f))
    }
    const over = await eye.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)
    if (over > 1) bad.push(`${over} px wider than the window`)
    if (width < 900) bad.push(...(await byThumb(eye)))
    await there.close()
    assert.deepEqual(bad, [])
  })
}

/// What is too small for a thumb; and a limit is moved by one tap in the picture.
async function byThumb(eye) {
  const small = await eye.evaluate(() =>
    [...document.querySelectorAll('.choose-stage :is(button, select, input[type=text], input[type=range], summary, .place, .must-on)')]
      .filter((e) => e.checkVisibility() && e.getBoundingClientRect().height < 43.5)
      .map((e) => `small ${e.tagName}.${e.className} '${e.textContent.slice(0, 30)}'`),
  )
  const before = await eye.inputValue('#must-money')
  const svg = eye.locator('.scatter svg')
  await svg.scrollIntoViewIfNeeded()
  const box = await svg.boundingBox()
  await svg.tap({ position: { x: box.width * 0.7, y: box.height * 0.6 } })
  await until(eye, (v) => document.querySelector('#must-money').value !== v, before)
  return small
}

test('one becomes a variant with one press, beside its original', async () => {
  await page.getByRole('button', { name: 'Take A as a variant' }).click()
  await page.waitForURL(/variants\/\d+/)
  await page.locator('.beside').first().waitFor()
  const made = Number(/variants\/(\d+)/.exec(page.url())[1])
  assert.ok(made !== id)
  const both = await page.evaluate(async ([a, b]) => [await (await fetch(`/api/builds/${a}`)).json(), await (await fetch(`/api/builds/${b}`)).json()], [id, made])
  assert.equal(both[0].revision, 1, 'the original is as it was')
  assert.match(both[1].name, /^Commuter: .*kWh/)
})

test('by keys alone: a search is begun and ended; what is there stays', async () => {
  await page.goto(program.base + `#/b/${id}/choose`)
  await page.waitForSelector('.place')
  for (const box of await page.locator('.place input').all()) {
    if (await box.isChecked()) continue
    await box.focus()
    await page.keyboard.press('Space')
  }
  await page.locator('.choose-notes', { hasText: 'Other places may change now' }).waitFor()
  await page.locator('.choose-go button.main').focus()
  await page.keyboard.press('Enter')
  const end = page.getByRole('button', { name: 'End it, keep what is there' })
  await end.waitFor()
  // Meanwhile the rest of the page answers.
  const began = Date.now()
  await page.evaluate((n) => fetch(`/api/builds/${n}`).then((r) => r.json()), id)
  console.log(`a state while it searches: ${Date.now() - began} ms`)
  await end.focus()
  await page.keyboard.press('Enter')
  await over()
  await page.locator('.choose-notes', { hasText: /ended early|in the time there was/ }).waitFor()
})

test('where nothing fits it says what is in the way', async () => {
  const other = await page.evaluate(async () => {
    const body = JSON.stringify({ name: 'Beginner', where: 'riding', demo: 'beginner' })
    const reply = await fetch('/api/builds', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body })
    return (await reply.json()).build
  })
  await page.goto(program.base + `#/b/${other}/choose`)
  await page.waitForSelector('.place')
  for (const place of await page.locator('.place input').all()) await place.setChecked(true)
  await page.getByRole('button', { name: 'Search', exact: true }).click()
  await page.locator('.choose-notes', { hasText: 'Nothing fits, whatever is chosen' }).waitFor()
  assert.match(await page.textContent('.choose-notes'), /were only this otherwise: the key switch against the full pack/)
})

test('a spoilt request is refused and says what is wrong', async () => {
  const refused = await page.evaluate(async (n) => {
    const send = async (body) => {
      const reply = await fetch(`/api/builds/${n}/search`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body })
      return [reply.status, (await reply.json()).problems?.[0]?.code]
    }
    return [await send('{'), await send('{}'), await send(JSON.stringify({ base: 1, open: ['wings'], without: [], musts: [], wants: [], own_first: true, seconds: 5 }))]
  }, id)
  assert.deepEqual(refused, [[400, 'bad-json'], [400, 'missing-key'], [400, 'unknown-option']])
  forgive(/400/)
})

test('nothing was written to the console as an error', () => {
  assert.deepEqual(errors, [])
})
