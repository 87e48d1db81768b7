// SPDX-License-Identifier: MIT
// Talks with the program. Every call ends as an answer, a refusal, a stale edit or as 'away'.
import type { Edit, EditChange, Garage, NewBuild, Preview, Problem, Refused, Schema, SearchEvent, Stale, State }
  from './api'
import { draftKey, get, go, set } from './store'

export class Refusal extends Error {
  constructor(public problems: Problem[], public status: number) {
    super(problems.map((p) => p.what).join(' ') || 'The program refused it.')
  }
}
export class Away extends Error {}
/// It answers, but was started anew and does not know this page yet.
export class Shut extends Away {}
class StaleEdit extends Error {
  constructor(public stale: Stale) {
    super('stale')
  }
}

async function call(path: string, options: RequestInit = {}): Promise<Response> {
  let reply: Response
  try {
    reply = await fetch(path, { credentials: 'same-origin', ...options })
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') throw error
    throw new Away('The program does not answer.')
  }
  if (reply.ok) return reply
  let body: unknown = null
  try {
    body = await reply.json()
  } catch {
    // Not JSON: told by its number below.
  }
  if (reply.status === 409 && body) throw new StaleEdit(body as Stale)
  const problems = (body as Refused | null)?.problems ?? []
  if (reply.status === 401) throw new Shut(problems[0]?.what ?? 'This page was not let in.')
  throw new Refusal(
    problems.length ? problems : [{ code: String(reply.status), what: 'The program answered ' + reply.status + '.' }],
    reply.status,
  )
}

export async function ask<T>(path: string, signal?: AbortSignal): Promise<T> {
  return (await (await call('/api/' + path, signal ? { signal } : {})).json()) as T
}

export async function askText(path: string, signal?: AbortSignal): Promise<string> {
  return (await call('/api/' + path, signal ? { signal } : {})).text()
}

export async function askBlob(path: string): Promise<Blob> {
  return (await call('/api/' + path, {})).blob()
}

export async function post<T>(path: string, body: unknown, signal?: AbortSignal): Promise<T> {
  const options: RequestInit = {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(body),
  }
  if (signal) options.signal = signal
  return (await (await call('/api/' + path, options)).json()) as T
}

export async function remove<T>(path: string): Promise<T> {
  const options = { method: 'DELETE', headers: { 'Content-Type': 'application/json' } }
  return (await (await call('/api/' + path, options)).json()) as T
}

export async function postPicture<T>(path: string, picture: Blob): Promise<T> {
  const options = { method: 'POST', headers: { 'Content-Type': picture.type }, body: picture }
  return (await (await call('/api/' + path, options)).json()) as T
}

// What happens when it goes wrong --------------------------------------------------------------

let waiting: number | undefined

export function away(error?: Away): void {
  set(error instanceof Shut ? { offline: false, shut: error.message } : { offline: true, shut: '' })
  window.clearTimeout(waiting)
  waiting = window.setTimeout(knock, 1500)
}

async function knock(): Promise<void> {
  try {
    const garage = await ask<Garage>('garage')
    if (get().schema) back(garage)
    else void open()
  } catch (error) {
    tell(error)
  }
}

function back(garage: Garage): void {
  window.clearTimeout(waiting)
  set({ offline: false, shut: '', garage })
  listen()
  if (get().pending.length) void send()
  else void reload()
}

/// Says what went wrong where nothing better is at hand.
export function tell(error: unknown): void {
  if (error instanceof DOMException && error.name === 'AbortError') return
  if (error instanceof Away) return away(error)
  set({ notice: error instanceof Error ? error.message : String(error) })
}

// Opening --------------------------------------------------------------------------------------

export async function open(): Promise<void> {
  try {
    const [schema, garage] = await Promise.all([ask<Schema>('schema'), ask<Garage>('garage')])
    const fields = new Map(schema.slots.flatMap((s) => s.fields.map((f) => [f.path, f] as const)))
    const slots = new Map(schema.slots.map((s) => [s.key, s] as const))
    set({ schema, garage, fields, slots, offline: false, shut: '' })
    listen()
    if (!get().route.build && get().route.view === 'garage' && !garage.builds.length) go('start')
    if (get().route.build) await load(get().route.build)
    if (get().pending.length) void send()
  } catch (error) {
    tell(error)
  }
}

export async function refreshGarage(): Promise<void> {
  try {
    set({ garage: await ask<Garage>('garage') })
  } catch (error) {
    tell(error)
  }
}

export async function load(build: number): Promise<void> {
  if (get().build?.build === build) return
  set({ build: null, former: null, preview: null, part: '' })
  try {
    show(await ask<State>('builds/' + build))
  } catch (error) {
    tell(error)
    if (error instanceof Refusal) go()
  }
}

export async function reload(): Promise<void> {
  const build = get().build
  if (!build) return
  try {
    show(await ask<State>('builds/' + build.build))
  } catch (error) {
    tell(error)
  }
}

// Showing --------------------------------------------------------------------------------------

let fuller: AbortController | undefined

const told = ['speed_top', 'time_0_50', 'range_hold_reserve', 'grade_max', 'mass', 'money', 'months']

function difference(before: State, now: State): string {
  const was = new Map(before.answers.map((a) => [a.key, a.likely]))
  const changed = now.answers.filter((a) => told.includes(a.key) && was.get(a.key) !== a.likely)
  const said = changed.map((a) => `${a.label}: ${a.likely}, was ${was.get(a.key) ?? 'not known'}`)
  if (now.counts.clash !== before.counts.clash) {
    said.push(`clashes: ${now.counts.clash}, were ${before.counts.clash}`)
  }
  return said.join('. ')
}

/// Shows a state that came from the program.
export function show(state: State): void {
  const before = get().build
  if (before?.build === state.build && before.revision > state.revision) return
  const same = before?.build === state.build
  const moved = same && before.revision !== state.revision
  if (same && !moved && before.units === state.units && before.ready === 'full' && state.ready === 'first') return
  const change: Parameters<typeof set>[0] = { build: state, preview: null }
  if (moved) {
    change.former = before
    change.said = difference(before, state)
  } else if (!same) change.former = null
  set(change)
  fuller?.abort()
  if (state.ready === 'first') void fill(state)
}

async function fill(state: State): Promise<void> {
  fuller = new AbortController()
  try {
    const full = await ask<State>(`builds/${state.build}?ready=full`, fuller.signal)
    if (get().build?.build === full.build) show(full)
  } catch (error) {
    tell(error)
  }
}

// Changing -------------------------------------------------------------------------------------

/// Changes figures of the open build. True when the program took it.
export async function edit(changes: EditChange[], what: string): Promise<boolean> {
  const build = get().build
  if (!build || !changes.length) return false
  set({ pending: [...get().pending, { build: build.build, changes, what }] })
  return send()
}

let line: Promise<boolean> = Promise.resolve(true)

export function send(): Promise<boolean> {
  line = line.then(sendAll, sendAll)
  return line
}

async function sendAll(): Promise<boolean> {
  let good = true
  while (get().pending.length && !get().stale) {
    const first = get().pending[0]
    if (!first) break
    set({ sending: true })
    try {
      const shown = get().build
      const base = shown?.build === first.build ? shown.revision : (await ask<State>('builds/' + first.build)).revision
      const state = await post<State>(`builds/${first.build}/edit`, { base, changes: first.changes, what: first.what } as Edit)
      done(first.changes, first.build)
      if (get().build?.build === state.build || !get().build) show(state)
      good = true
    } catch (error) {
      good = false
      if (error instanceof StaleEdit) {
        if (error.stale.same_fields) set({ stale: error.stale })
        else merge(error.stale)
      } else if (error instanceof Refusal) {
        refused(first.changes, first.build, error)
      } else {
        set({ sending: false })
        tell(error)
        return false
      }
    }
  }
  set({ sending: false })
  return good
}

function done(changes: EditChange[], build: number): void {
  const drafts = { ...get().drafts }
  for (const change of changes) {
    const key = draftKey(build, change.path)
    if (drafts[key]?.text === change.text || drafts[key]?.problem) delete drafts[key]
  }
  set({ drafts, pending: get().pending.slice(1) })
}

/// Someone else changed other figures meanwhile: both changes stand.
function merge(stale: Stale): void {
  set({ notice: 'Also changed elsewhere: ' + stale.changed.map((c) => `${c.label}: ${c.to}`).join('; ') })
  show(stale.now)
}

function refused(changes: EditChange[], build: number, refusal: Refusal): void {
  const drafts = { ...get().drafts }
  const loose: string[] = []
  for (const problem of refusal.problems) {
    const change = changes.find((c) => c.path === problem.field) ?? (changes.length === 1 ? changes[0] : undefined)
    if (change && get().fields.has(change.path)) {
      drafts[draftKey(build, change.path)] = { text: change.text, problem, refused: change.text }
    } else loose.push([problem.what, problem.way_out].filter(Boolean).join(' '))
  }
  set({ drafts, pending: get().pending.slice(1), said: refusal.message })
  if (loose.length) set({ notice: loose.join(' ') })
}

/// The builder chose, field by field, which of two versions stands.
export function settle(mine: EditChange[]): void {
  const stale = get().stale
  const first = get().pending[0]
  if (!stale || !first) return
  const rest = get().pending.slice(1)
  const drop = first.changes.filter((c) => !mine.includes(c))
  const drafts = { ...get().drafts }
  for (const change of drop) delete drafts[draftKey(first.build, change.path)]
  set({ stale: null, drafts, pending: mine.length ? [{ ...first, changes: mine }, ...rest] : rest })
  show(stale.now)
  void send()
}

export async function step(way: 'undo' | 'redo'): Promise<void> {
  const build = get().build
  if (!build) return
  try {
    show(await post<State>(`builds/${build.build}/${way}`, { base: build.revision }))
  } catch (error) {
    if (error instanceof StaleEdit) {
      show(error.stale.now)
      set({ notice: 'It was changed elsewhere meanwhile. Look, then press again.' })
    } else tell(error)
  }
}

export async function preview(changes: EditChange[], signal?: AbortSignal): Promise<Preview> {
  const build = get().build
  if (!build) throw new Away('no build is open')
  return post<Preview>(`builds/${build.build}/preview`, { base: build.revision, changes, what: 'preview' }, signal)
}

export async function start(made: NewBuild): Promise<State> {
  const state = await post<State>('builds', made)
  show(state)
  void refreshGarage()
  return state
}

// Events ---------------------------------------------------------------------------------------

let source: EventSource | undefined

function listen(): void {
  if (source && source.readyState !== EventSource.CLOSED) return
  source = new EventSource('/api/events')
  source.addEventListener('state', (event) => {
    const news = JSON.parse((event as MessageEvent<string>).data) as { build: number; revision: number }
    const shown = get().build
    if (!shown || shown.build !== news.build || news.revision <= shown.revision) return
    if (get().sending || get().pending.length) return
    void reload()
  })
  source.addEventListener('search', (event) => {
    set({ news: JSON.parse((event as MessageEvent<string>).data) as SearchEvent })
  })
  source.addEventListener('notice', (event) => {
    set({ notice: (JSON.parse((event as MessageEvent<string>).data) as { text: string }).text })
  })
  source.onopen = () => {
    if (get().offline) void knock()
  }
  source.onerror = () => {
    source?.close()
    source = undefined
    away()
  }
}
