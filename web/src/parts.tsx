// SPDX-License-Identifier: MIT
// Parts: for each place in the bike what is in it, what the shelf holds, own parts from listings,
// and two parts held against each other without a bike.
import { useEffect, useState } from 'preact/hooks'
import type { Finding, ShelfPart, Slot, State } from './api'
import { worstOf } from './drawing'
import { FindingCard, Findings } from './fit'
import { Gearing } from './gearing'
import { Paste } from './paste'
import { Forms, StageHead } from './stage'
import { go, linkTo, set, use } from './store'
import { ask, edit, remove, tell } from './talk'
import { saysWord, Sign, SlotCaution, Verdict } from './words'

export function Parts() {
  const state = use((s) => s.build)
  const rest = use((s) => s.route.rest)
  if (!state) return null
  if (rest[0] === 'paste') return <Paste slot={rest[1] ?? ''} />
  if (rest[0] === 'hold') return <Hold />
  if (rest[0] === 'gearing') return <Gearing />
  if (rest[0]) return <SlotPage slot={rest[0]} />
  return (
    <>
      <StageHead stage="parts" />
      <p class="tools">
        <a class="button" href={linkTo('b', state.build, 'parts', 'paste')}>
          Paste a listing
        </a>
        <a class="button" href={linkTo('b', state.build, 'parts', 'hold')}>
          Hold two parts together
        </a>
        <a class="button" href={linkTo('b', state.build, 'parts', 'gearing')}>
          Play with the gearing
        </a>
      </p>
      <SlotList state={state} />
    </>
  )
}

export function nameOf(state: State, slot: string): string {
  const text = (key: string) => state.values[slot + '.' + key]?.text ?? ''
  return text('name') || text('part')
}

function SlotList({ state }: { state: State }) {
  const schema = use((s) => s.schema)
  if (!schema) return null
  const stage = schema.stages.find((s) => s.key === 'parts')?.slots ?? []
  const slots = schema.slots.filter((s) => s.is_part || stage.includes(s.key))
  return (
    <ul class="slot-list">
      {slots.map((slot) => (
        <li key={slot.key}>
          <SlotLine state={state} slot={slot} />
        </li>
      ))}
    </ul>
  )
}

function SlotLine({ state, slot }: { state: State; slot: Slot }) {
  const present = state.slots_present.includes(slot.key)
  const worst = present ? worstOf(state.findings, slot.key) : undefined
  const sketched = Object.entries(state.values).some(([p, v]) => p.startsWith(slot.key + '.') && v.from === 'sketched')
  const name = nameOf(state, slot.key)
  const bought = state.values[slot.key + '.state']?.text ?? ''
  return (
    <a class={'slot-line' + (present ? '' : ' absent')} href={linkTo('b', state.build, 'parts', slot.key)}>
      <span class="slot-name">{slot.label}</span>
      <span class="slot-part">
        {present ? name || (slot.is_part ? 'own figures' : 'filled in') : slot.optional ? 'none yet' : 'nothing filled in'}
        {sketched && <span class="tag">sketched in</span>}
        {bought && <span class="tag">{bought}</span>}
      </span>
      {worst ? <Verdict says={worst.says} /> : <span class="soft">{present ? '' : 'choose'}</span>}
      {worst && worst.says !== 'fits' && <span class="slot-why">{worst.because || worst.title}</span>}
    </a>
  )
}

/// One place in the bike: what stands in it, its findings, the shelf, its figures.
export function SlotPage({ slot: key, beside = false }: { slot: string; beside?: boolean }) {
  const state = use((s) => s.build)
  const slot = use((s) => s.slots.get(key))
  if (!state || !slot) return null
  const present = state.slots_present.includes(key)
  const mine = state.findings.filter((f) => f.between.includes(key))
  const open = mine.filter((f) => f.says !== 'fits')
  const name = nameOf(state, key)
  const close = () => (beside ? set({ part: '' }) : go('b', state.build, 'parts'))
  return (
    <section class="slot-page" aria-label={slot.label}>
      <p class="back">
        <button class="quiet" onClick={close}>
          {beside ? 'Close' : 'All parts'}
        </button>
      </p>
      <h1 class="stage-title">{slot.label}</h1>
      <p class="slot-now">
        {present ? <b>{name || 'own figures'}</b> : <span>Nothing chosen yet.</span>}
        {present && slot.is_part && (
          <button class="quiet" onClick={() => void edit([{ path: key, text: '' }], 'take out: ' + slot.label)}>
            Take it out
          </button>
        )}
      </p>
      <SlotCaution slot={key} />
      {open.length > 0 && (
        <details class="fold" open={!beside || open.length < 4}>
          <summary>
            <Sign says={open[0]!.says} /> {open.length} open with it, worst: {saysWord[open[0]!.says]}
          </summary>
          <Findings findings={open} all />
        </details>
      )}
      {slot.is_part && <Shelf slot={slot} />}
      <Forms key={key} slots={[{ ...slot, is_part: false }]} filter={present ? 'filled' : 'all'} />
    </section>
  )
}

const rank = { fits: 0, tight: 1, unmeasured: 2, clash: 3, none: 4 }

function Shelf({ slot }: { slot: Slot }) {
  const build = use((s) => s.build?.build ?? 0)
  const revision = use((s) => s.build?.revision ?? 0)
  const chosen = use((s) => s.build?.values[slot.key + '.part']?.text ?? '')
  const [open, setOpen] = useState(false)
  const [parts, setParts] = useState<ShelfPart[] | null>(null)
  const [find, setFind] = useState('')
  useEffect(() => {
    if (!open) return
    const stop = new AbortController()
    ask<ShelfPart[]>(`shelves/${slot.shelf}?build=${build}&slot=${slot.key}`, stop.signal).then(setParts).catch(tell)
    return () => stop.abort()
  }, [open, build, revision, slot.key])
  const sought = find.trim().toLowerCase()
  const shown = (parts ?? [])
    .filter((p) => !sought || (p.name + ' ' + p.facts.join(' ')).toLowerCase().includes(sought))
    .sort((a, b) => Number(b.own) - Number(a.own) || rank[a.says] - rank[b.says])
  const takeIn = (p: ShelfPart) => {
    const change = p.own ? { path: slot.key, text: 'own:' + p.own_id } : { path: slot.key + '.part', text: p.id }
    void edit([change], `${slot.label}: ${p.name}`)
  }
  return (
    <details class="fold shelf" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>Choose from the shelf</summary>
      <p class="tools">
        <input
          type="search"
          class="find"
          aria-label="find a part"
          placeholder="find a part"
          value={find}
          onInput={(e) => setFind(e.currentTarget.value)}
        />
        <a class="button" href={linkTo('b', build, 'parts', 'paste', slot.key)}>
          Paste a listing
        </a>
      </p>
      {open && !parts && <p class="soft">Each one is held against this bike; that takes a moment.</p>}
      <ul class="shelf-list">
        {shown.map((p) => (
          <li key={p.id} class={p.id === chosen ? 'chosen' : ''}>
            <h3>
              {p.name || p.id} {p.own && <span class="tag">your own</span>}
            </h3>
            <p class="facts">
              {p.facts.map((f) => (
                <span key={f}>{f}</span>
              ))}
              {p.price && <span>price: {p.price}</span>}
            </p>
            <p class="shelf-says">
              <Verdict says={p.says} /> {p.why}
            </p>
            {p.id === chosen ? (
              <b>in the bike now</b>
            ) : (
              <button onClick={() => takeIn(p)}>Put it in</button>
            )}
            {p.own && <Forget part={p} done={() => setParts((x) => x?.filter((y) => y.id !== p.id) ?? null)} />}
          </li>
        ))}
      </ul>
    </details>
  )
}

function Forget({ part, done }: { part: ShelfPart; done: () => void }) {
  return (
    <button class="quiet" onClick={() => void remove('own-parts/' + part.own_id).then(done).catch(tell)}>
      Throw it off the shelf
    </button>
  )
}

// Two parts without a bike ---------------------------------------------------------------------

function Pick({ name, shelf, part, choose }: { name: string; shelf: string; part: string; choose: (shelf: string, part: string) => void }) {
  const schema = use((s) => s.schema)
  const [parts, setParts] = useState<ShelfPart[]>([])
  useEffect(() => {
    if (!shelf) return
    const stop = new AbortController()
    ask<ShelfPart[]>('shelves/' + shelf, stop.signal).then(setParts).catch(tell)
    return () => stop.abort()
  }, [shelf])
  const shelves = new Map((schema?.slots ?? []).filter((s) => s.shelf).map((s) => [s.shelf, s.label]))
  return (
    <fieldset class="pick">
      <legend>{name}</legend>
      <label>
        kind
        <select value={shelf} onChange={(e) => choose(e.currentTarget.value, '')}>
          <option value="">choose</option>
          {[...shelves].map(([key, label]) => (
            <option key={key} value={key}>
              {label}
            </option>
          ))}
        </select>
      </label>
      <label>
        part
        <select value={part} onChange={(e) => choose(shelf, e.currentTarget.value)} disabled={!shelf}>
          <option value="">choose</option>
          {parts.map((p) => (
            <option key={p.id} value={p.id}>
              {p.name || p.id}
              {p.own ? ' (your own)' : ''}
            </option>
          ))}
        </select>
      </label>
    </fieldset>
  )
}

/// Two parts against each other; with no build open, too.
export function Hold() {
  const [a, setA] = useState({ shelf: 'motor', part: '' })
  const [b, setB] = useState({ shelf: 'controller', part: '' })
  const [found, setFound] = useState<Finding[] | null>(null)
  const build = use((s) => s.route.build)
  useEffect(() => {
    setFound(null)
    if (!a.part || !b.part) return
    const stop = new AbortController()
    const path = [a.shelf, a.part, b.shelf, b.part].map(encodeURIComponent).join('/')
    ask<Finding[]>('hold/' + path, stop.signal).then(setFound).catch(tell)
    return () => stop.abort()
  }, [a.part, b.part, a.shelf, b.shelf])
  const open = found?.filter((f) => f.says === 'unmeasured') ?? []
  return (
    <section>
      <p class="back">{build ? <a href={linkTo('b', build, 'parts')}>All parts</a> : <a href="#/">To the garage</a>}</p>
      <h1 class="stage-title">Do these two fit each other?</h1>
      <p class="soft">Only what can be said without a bike.</p>
      <div class="two">
        <Pick name="This" shelf={a.shelf} part={a.part} choose={(shelf, part) => setA({ shelf, part })} />
        <Pick name="against this" shelf={b.shelf} part={b.part} choose={(shelf, part) => setB({ shelf, part })} />
      </div>
      {found && !found.length && <p>No finding stands between the two.</p>}
      {found && <Cards findings={found.filter((f) => f.says !== 'unmeasured')} />}
      {open.length > 0 && (
        <details class="fold" open={open.length === found?.length}>
          <summary>
            <Sign says="unmeasured" /> {open.length} more cannot be said: a figure lacks, or the bike
          </summary>
          <Cards findings={open} />
        </details>
      )}
    </section>
  )
}

function Cards({ findings }: { findings: Finding[] }) {
  return (
    <ul class="finding-list">
      {findings.map((f) => (
        <li key={f.rule}>
          <FindingCard finding={f} bare />
        </li>
      ))}
    </ul>
  )
}

