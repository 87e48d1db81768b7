// SPDX-License-Identifier: MIT
// The one state of the page and what may be done to it. Invariants:
// 1. Drawing reads the state; only `set` changes it.
// 2. What a person typed is in `drafts` from the first letter until the program has taken it.
// 3. An edit is in `pending` until the program has answered; while it does not answer, it waits.
import { useEffect, useState } from 'preact/hooks'
import type { EditChange, Field, Garage, Preview, Problem, Schema, SearchEvent, Slot, Stale, State } from './api'

export type Route = { view: string; build: number; rest: string[] }
export type Draft = { text: string; problem?: Problem; refused?: string }
export type Pending = { build: number; changes: EditChange[]; what: string }
export type Sheet = 'light' | 'dark' | 'system'

export type Store = {
  route: Route
  schema: Schema | null
  fields: Map<string, Field>
  slots: Map<string, Slot>
  garage: Garage | null
  build: State | null
  former: State | null // the build before the last change: the ghost
  drafts: Record<string, Draft>
  pending: Pending[]
  sending: boolean
  offline: boolean
  shut: string // the program answers, but does not know this page
  stale: Stale | null
  notice: string
  said: string // for the live region
  part: string // the slot whose figures are open beside the drawing
  preview: { of: string; is: Preview } | null
  news: SearchEvent | null // of a search, as it goes on
  sheet: Sheet
}

export function routeOf(hash: string): Route {
  const parts = hash.replace(/^#\/?/, '').split('/').filter(Boolean).map(decodeURIComponent)
  if (parts[0] === 'b' && Number(parts[1]) > 0) {
    return { view: parts[2] ?? 'now', build: Number(parts[1]), rest: parts.slice(3) }
  }
  return { view: parts[0] ?? 'garage', build: 0, rest: parts.slice(1) }
}

function kept<T>(key: string, otherwise: T): T {
  try {
    const text = sessionStorage.getItem(key)
    return text ? (JSON.parse(text) as T) : otherwise
  } catch {
    return otherwise
  }
}

function keep(key: string, value: unknown): void {
  try {
    sessionStorage.setItem(key, JSON.stringify(value))
  } catch {
    // A full or forbidden store: it then lives in memory alone.
  }
}

let store: Store = {
  route: routeOf(location.hash),
  schema: null,
  fields: new Map(),
  slots: new Map(),
  garage: null,
  build: null,
  former: null,
  drafts: kept<Record<string, Draft>>('drafts', {}),
  pending: kept<Pending[]>('pending', []),
  sending: false,
  offline: false,
  shut: '',
  stale: null,
  notice: '',
  said: '',
  part: '',
  preview: null,
  news: null,
  sheet: kept<Sheet>('sheet', 'system'),
}

const listeners = new Set<() => void>()

export const get = (): Store => store

export function set(change: Partial<Store>): void {
  store = { ...store, ...change }
  if (change.drafts) keep('drafts', store.drafts)
  if (change.pending) keep('pending', store.pending)
  if (change.sheet) keep('sheet', store.sheet)
  for (const call of [...listeners]) call()
}

/// A piece of the state; the component is drawn again when the piece is another one.
export function use<T>(pick: (s: Store) => T): T {
  const [piece, setPiece] = useState<T>(() => pick(store))
  useEffect(() => {
    const look = () => {
      const next = pick(store)
      setPiece(() => next)
    }
    look()
    listeners.add(look)
    return () => void listeners.delete(look)
  }, [])
  return piece
}

/// What was typed into a field of the build that is open.
export const draftKey = (build: number, path: string): string => build + ':' + path

export function setDraft(build: number, path: string, draft: Draft | null): void {
  const drafts = { ...store.drafts }
  if (draft) drafts[draftKey(build, path)] = draft
  else delete drafts[draftKey(build, path)]
  set({ drafts })
}

export const fieldOf = (path: string): Field | undefined => store.fields.get(path)

export function labelOf(path: string): string {
  const field = store.fields.get(path)
  const slot = store.slots.get(path.split('.')[0] ?? '')
  if (field && slot) return slot.label + ': ' + field.label
  return field?.label ?? slot?.label ?? path
}

export function go(...parts: (string | number)[]): void {
  location.hash = '#/' + parts.map((p) => encodeURIComponent(String(p))).join('/')
}

export const linkTo = (...parts: (string | number)[]): string =>
  '#/' + parts.map((p) => encodeURIComponent(String(p))).join('/')
