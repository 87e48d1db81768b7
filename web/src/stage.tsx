// SPDX-License-Identifier: MIT
// A stage whose work is to fill in figures: what to measure first, then every figure there is.
import { useEffect, useMemo, useState } from 'preact/hooks'
import type { Measure, Slot, State } from './api'
import { Fields, FieldRow } from './field'
import { get, use } from './store'
import { ask, tell } from './talk'
import { plural, SlotCaution } from './words'

/// Something of the open build that is asked for again at each revision.
export function useOf<T>(what: string): T | null {
  const build = use((s) => s.build?.build ?? 0)
  const revision = use((s) => s.build?.revision ?? 0)
  const [is, setIs] = useState<T | null>(null)
  useEffect(() => {
    if (!build) return
    const stop = new AbortController()
    ask<T>(`builds/${build}/${what}`, stop.signal).then(setIs).catch(tell)
    return () => stop.abort()
  }, [build, revision, what])
  return is
}

export function StageHead({ stage }: { stage: string }) {
  const info = use((s) => s.schema?.stages.find((x) => x.key === stage))
  const open = use((s) => s.build?.stages.find((x) => x.key === stage)?.open)
  if (!info) return null
  return (
    <header class="stage-head">
      <h1 class="stage-title">{info.question}</h1>
      {open && open.length > 0 ? (
        <details class="open-list">
          <summary>
            {plural(open.length, 'thing', 'things')} still open; first: {open[0]}
          </summary>
          <ul>
            {open.map((o) => (
              <li key={o}>{o}</li>
            ))}
          </ul>
        </details>
      ) : (
        <p class="soft">Nothing is open here.</p>
      )}
    </header>
  )
}

export function FillIn({ stage }: { stage: string }) {
  const schema = use((s) => s.schema)
  const info = schema?.stages.find((s) => s.key === stage)
  if (!schema || !info) return null
  const slots = info.slots.map((k) => schema.slots.find((s) => s.key === k)).filter((s): s is Slot => !!s && !s.is_part)
  return (
    <>
      <StageHead stage={stage} />
      <MeasureNext slots={slots.map((s) => s.key)} />
      <Forms slots={slots} />
    </>
  )
}

/// The few figures that unlock most, to be typed right here.
export function MeasureNext({ slots, most = 5 }: { slots: string[]; most?: number }) {
  const list = useOf<Measure[]>('measure')
  const build = use((s) => s.build?.build ?? 0)
  const [shown, setShown] = useState<{ build: number; list: Measure[] } | null>(null)
  const [count, setCount] = useState(most)
  const fit = list?.filter((m) => slots.includes(m.path.split('.')[0] ?? '')) ?? []
  useEffect(() => {
    // The list stays as it is while it is worked through: rows do not move under a thumb.
    if (list && shown?.build !== build) setShown({ build, list: fit })
  }, [list, build])
  if (!shown || !shown.list.length) return null
  const left = shown.list.filter((m) => get().build?.values[m.path]?.from !== 'sheet').length
  return (
    <section class="measure">
      <h2>To measure next</h2>
      <ol>
        {shown.list.slice(0, count).map((m) => (
          <li key={m.path}>
            <Fields paths={[m.path]} where="next-" />
            <Why measure={m} />
          </li>
        ))}
      </ol>
      <p>
        <button class="quiet" onClick={() => setShown({ build, list: fit })}>
          Make the list new
        </button>
        {count < shown.list.length && (
          <button class="quiet" onClick={() => setCount(count + 10)}>
            Show more of {left}
          </button>
        )}
      </p>
    </section>
  )
}

function Why({ measure: m }: { measure: Measure }) {
  const words = [
    m.unlocks.length ? 'unlocks buying ' + m.unlocks.join(', ') : '',
    m.decides.length ? 'decides ' + plural(m.decides.length, 'finding', 'findings') : '',
    m.moves ? 'moves the distance by ' + m.moves : '',
    m.blocks && m.blocks !== 'nothing' ? 'stands before ' + m.blocks : '',
  ].filter(Boolean)
  return words.length ? <p class="why">{words.join('; ')}.</p> : null
}

type Filter = 'filled' | 'empty' | 'all'
const filterWords: Record<Filter, string> = { empty: 'not known', filled: 'filled in', all: 'all' }

function shownPaths(slots: Slot[], state: State, filter: Filter): Set<string> {
  const paths = slots.flatMap((s) => s.fields.map((f) => f.path))
  const filled = (p: string) => state.values[p]?.from === 'sheet'
  return new Set(paths.filter((p) => filter === 'all' || (filter === 'filled') === filled(p)))
}

export function Forms({ slots, filter: first = 'filled' }: { slots: Slot[]; filter?: Filter }) {
  const state = use((s) => s.build)
  const [filter, setFilter] = useState<Filter>(first)
  const [find, setFind] = useState('')
  const keys = slots.map((s) => s.key).join()
  const build = state?.build
  // Chosen once a filter: a figure that is filled in stays where it is.
  const shown = useMemo(() => (state ? shownPaths(slots, state, filter) : new Set<string>()), [keys, filter, build])
  if (!state) return null
  const sought = find.trim().toLowerCase()
  const hit = (label: string, path: string) =>
    sought ? label.toLowerCase().includes(sought) || path.includes(sought) : shown.has(path)
  const count = (f: Filter) => shownPaths(slots, state, f).size
  return (
    <section class="forms">
      <h2>All figures</h2>
      <div class="form-tools">
        <div class="choose" role="radiogroup" aria-label="which figures">
          {(['filled', 'empty', 'all'] as const).map((f) => (
            <label key={f} class={filter === f ? 'on' : ''}>
              <input type="radio" name={'filter' + keys} checked={filter === f} onChange={() => setFilter(f)} />
              {filterWords[f]} <span class="soft">{count(f)}</span>
            </label>
          ))}
        </div>
        <input
          type="search"
          class="find"
          aria-label="find a figure"
          placeholder="find a figure"
          value={find}
          onInput={(e) => setFind(e.currentTarget.value)}
        />
      </div>
      {slots.map((slot) => {
        const fields = slot.fields.filter((f) => hit(f.label, f.path))
        if (!fields.length) return null
        return (
          <div key={slot.key} class="slot-form">
            {slots.length > 1 && <h3>{slot.label}</h3>}
            <SlotCaution slot={slot.key} />
            <div class="rows">
              {fields.map((f) => (
                <FieldRow key={f.path} field={f} value={state.values[f.path]} build={state.build} />
              ))}
            </div>
          </div>
        )
      })}
    </section>
  )
}
