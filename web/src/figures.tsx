// SPDX-License-Identifier: MIT
// What you get: the figures that stay in view, laid out as the title block of the sheet.
import type { Answer, BigFigure, State } from './api'
import { use } from './store'
import { degrees, Fig, percent, Spread, when, Wish } from './words'

type Cell = { also?: string; key: string; label: string; likely: string; count_on: string; good_day: string; wish: string; met: string; by: string; less: boolean }

/// Of these less is better; the big figures do not say it.
const lessIsBetter = new Set(['mass', 'money'])

type Wanted = { label: string; keys: string[] }

/// In the order of the question 'what do I get': the first key of each that there is.
const wanted: Wanted[] = [
  { label: 'top speed', keys: ['speed_top'] },
  { label: 'punch, to 50', keys: ['time_0_50'] },
  { label: 'range at your speed', keys: ['range_hold_reserve', 'range_mixed_reserve'] },
  { label: 'steepest hill', keys: ['grade_max'] },
  { label: 'mass', keys: ['mass'] },
  { label: 'money and months', keys: ['money'] },
]

/// Who counts in miles an hour asks for sixty of them.
const punchInMiles: Wanted = { label: 'punch, to 60', keys: ['time_0_60mph'] }

/// Grades in per cent, everything else as it came.
export function percented<T extends { key: string; likely: string; count_on: string; good_day: string; wish: string; by: string }>(c: T): T {
  if (!c.key.startsWith('grade')) return c
  return { ...c, likely: percent(c.likely), count_on: percent(c.count_on), good_day: percent(c.good_day), wish: percent(c.wish), by: percent(c.by) }
}

export function cellsOf(state: State): Cell[] {
  const all = new Map<string, Answer | BigFigure>()
  for (const f of state.four) all.set(f.key, f)
  for (const a of state.answers) all.set(a.key, a)
  const list = wanted.map((w) => (w.keys[0] === 'time_0_50' && state.units === 'imperial' ? punchInMiles : w))
  return list.flatMap(({ label, keys }) => {
    const found = keys.map((k) => all.get(k)).find(Boolean)
    const less = !!found && ('more_is_better' in found ? !found.more_is_better : lessIsBetter.has(found.key))
    return found ? [{ ...percented(found), key: keys[0]!, label, less }] : []
  })
}

export function TitleBlock() {
  const state = use((s) => s.build)
  const former = use((s) => s.former)
  const sending = use((s) => s.sending)
  const pending = use((s) => s.pending.length)
  const offline = use((s) => s.offline || !!s.shut)
  if (!state) return null
  const before = new Map(former ? cellsOf(former).map((c) => [c.key, c.likely]) : [])
  const saved = offline ? `${pending} waiting` : sending || pending ? 'saving' : 'saved ' + when(state.saved_at)
  return (
    <section class="block" aria-label="what you get" tabIndex={0}>
      <div class="cell cell-name">
        <span class="cell-label">sheet</span>
        <b class="cell-title">{state.name}</b>
        <span class="cell-foot">
          revision {state.revision}, {saved}
        </span>
      </div>
      {!state.possible && (
        <div class="cell cell-word">
          <span class="cell-label">road</span>
          <span>No ride can be worked out yet: {missingWords(state)}</span>
        </div>
      )}
      {cellsOf(state).map((c) => (
        <CellOf key={c.key} cell={c} was={before.get(c.key)} ready={state.ready === 'full'} />
      ))}
    </section>
  )
}

function missingWords(state: State): string {
  const fields = [...state.parts_missing, ...state.missing]
  return fields.length ? fields.slice(0, 4).join(', ') + ' missing.' : 'something is missing.'
}

function CellOf({ cell, was, ready }: { cell: Cell; was: string | undefined; ready: boolean }) {
  const moved = was !== undefined && was !== cell.likely
  return (
    <div class={'cell' + (moved ? ' moved' : '')}>
      <span class="cell-label">{cell.label}</span>
      <span class="cell-figure">
        <Fig text={cell.likely} />
        {moved && <s class="ghost"><span class="sr">before: </span>{was}</s>}
      </span>
      <span class="cell-foot">
        <Spread low={cell.count_on} high={cell.good_day} ready={ready} beside={cell.likely} />
        <Wish wish={cell.wish} met={cell.met} by={cell.by} less={cell.less} />
        {cell.key === 'money' && cell.also && <span>{cell.also.split(',')[0]}</span>}
      </span>
    </div>
  )
}

/// The four big figures of a first answer.
export function Four() {
  const state = use((s) => s.build)
  const former = use((s) => s.former)
  if (!state) return null
  const before = new Map(former?.four.map((f) => [f.key, f.count_on]) ?? [])
  return (
    <dl class="four">
      {state.four.map((f) => {
        const was = before.get(f.key)
        return (
          <div key={f.key}>
            <dt>{f.label}</dt>
            <dd>
              <Fig text={f.count_on} class="big" />
              {was !== undefined && was !== f.count_on && <s class="ghost"><span class="sr">before: </span>{was}</s>}
              <span class="four-foot">
                {f.likely && f.likely !== f.count_on ? <span>likely {f.likely}</span> : null}
                <Wish wish={f.wish} met={f.met} by={f.by} less={lessIsBetter.has(f.key)} />
                {f.also && <span>{degrees(f.also)}</span>}
              </span>
            </dd>
          </div>
        )
      })}
    </dl>
  )
}
