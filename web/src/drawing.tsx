// SPDX-License-Identifier: MIT
// The bike from the side and from above, alive: parts can be touched, lines between two parts carry
// what stands between them.
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks'
import type { Finding, State } from './api'
import { get, go, labelOf, set, use } from './store'
import { svgFrom } from './svg'
import { askText, tell } from './talk'
import { Sign, saysWord } from './words'

export type ViewName = 'side' | 'top'
const titles: Record<ViewName, string> = { side: 'From the side', top: 'From above' }
const rank = { clash: 0, unmeasured: 1, tight: 2, fits: 3 }

/// From this width on a drawing carries its names; below, numbers that the row of parts explains.
const namesFrom = 640
const lettered = (width: number): number => (width >= namesFrom ? Math.max(700, width) : width)

/// The drawing's text for the revision that is shown; the former one is kept as long as it loads.
function useDrawing(view: ViewName, width: number): string {
  const build = use((s) => s.build?.build ?? 0)
  const revision = use((s) => s.build?.revision ?? 0)
  const [text, setText] = useState('')
  useEffect(() => {
    if (!build || !width) return
    const stop = new AbortController()
    const ask = `builds/${build}/${view}.svg?width=${lettered(width)}&revision=${revision}`
    askText(ask, stop.signal).then(setText).catch(tell)
    return () => stop.abort()
  }, [build, revision, view, width])
  return text
}

/// The width there is, in steps, so that dragging a window does not ask all the time.
function useWidth(box: { current: HTMLElement | null }): number {
  const [width, setWidth] = useState(0)
  useLayoutEffect(() => {
    const element = box.current
    if (!element) return
    const look = () => setWidth(Math.round(element.clientWidth / 20) * 20)
    look()
    const watch = new ResizeObserver(look)
    watch.observe(element)
    return () => watch.disconnect()
  }, [])
  return width
}

export function worstOf(findings: Finding[], part: string): Finding | undefined {
  return findings.filter((f) => f.between.includes(part)).sort((a, b) => rank[a.says] - rank[b.says])[0]
}

function openPart(part: string): void {
  set({ part: get().part === part ? '' : part })
}

function openField(path: string): void {
  const slot = path.split('.')[0] ?? ''
  const stage = get().schema?.stages.find((s) => s.slots.includes(slot))
  const build = get().build
  if (!build) return
  if (stage && !get().slots.get(slot)?.is_part) go('b', build.build, stage.key, slot)
  else set({ part: slot })
  window.setTimeout(() => focusField(path), 80)
}

/// Brings a figure into view and puts the cursor into it.
export function focusField(path: string): void {
  const row = document.querySelector(`[data-path="${CSS.escape(path)}"]`)
  const input = row?.querySelector<HTMLElement>('input[type=text], select, textarea')
  row?.scrollIntoView({ block: 'center' })
  input?.focus({ preventScroll: true })
}

type Link = { a: string; b: string; worst: Finding; count: number; x1: number; y1: number; x2: number; y2: number }

/// One line from the touched part to each other one that something is open with.
function linksOf(state: State, part: string, at: Map<string, { x: number; y: number }>): Link[] {
  if (!part) return []
  const links = new Map<string, Link>()
  for (const finding of state.findings) {
    if (finding.says === 'fits' || finding.known?.still) continue
    const ends = finding.between.filter((s) => at.has(s))
    for (let i = 0; i < ends.length; ++i) {
      for (let j = i + 1; j < ends.length; ++j) {
        const [a, b] = [ends[i]!, ends[j]!].sort() as [string, string]
        if (a !== part && b !== part) continue
        const p = at.get(a)!
        const q = at.get(b)!
        const link = links.get(a + b)
        if (!link) links.set(a + b, { a, b, worst: finding, count: 1, x1: p.x, y1: p.y, x2: q.x, y2: q.y })
        else {
          link.count += 1
          if (rank[finding.says] < rank[link.worst.says]) link.worst = finding
        }
      }
    }
  }
  return [...links.values()].filter((l) => Math.hypot(l.x1 - l.x2, l.y1 - l.y2) > 12)
}

function usePlaces(box: { current: HTMLDivElement | null }, text: string): Map<string, { x: number; y: number }> {
  const [places, setPlaces] = useState(new Map<string, { x: number; y: number }>())
  useLayoutEffect(() => {
    const frame = box.current
    if (!frame) return
    const look = () => {
      const outer = frame.getBoundingClientRect()
      const found = new Map<string, { x: number; y: number }>()
      for (const group of frame.querySelectorAll('[data-part]')) {
        const part = group.getAttribute('data-part') ?? ''
        const r = group.getBoundingClientRect()
        if (!part || found.has(part) || r.width === 0) continue
        found.set(part, { x: r.left - outer.left + r.width / 2, y: r.top - outer.top + r.height / 2 })
      }
      setPlaces(found)
    }
    look()
    const watch = new ResizeObserver(look)
    watch.observe(frame)
    return () => watch.disconnect()
  }, [text])
  return places
}

/// Gives every part of the drawing a name, a place in the tab order and an answer to a touch.
function bring(root: SVGSVGElement, state: State | null, cut: string): void {
  root.setAttribute('role', 'group')
  root.removeAttribute('width')
  root.removeAttribute('height')
  root.querySelector('.sheet')?.remove()
  const seen = new Set<string>()
  for (const element of root.querySelectorAll<SVGElement>('[data-part], .dimension[data-field]')) {
    const part = element.getAttribute('data-part') ?? ''
    const path = part ? '' : (element.getAttribute('data-field') ?? '').split(' ')[0]!
    const key = part || path
    if (seen.has(key) || (part && !get().slots.has(part))) continue
    seen.add(key)
    const worst = part && state ? worstOf(state.findings, part) : undefined
    element.setAttribute('role', 'button')
    element.setAttribute('tabindex', '0')
    const open = worst && worst.says !== 'fits' ? ', ' + saysWord[worst.says] : ''
    const written = path ? (element.querySelector('text')?.textContent ?? '') + ', ' : ''
    element.setAttribute('aria-label', written + labelOf(key) + open)
  }
  if (cut) crop(root, cut)
}

/// Ends the drawing above what the page shows in another way: the list of names is the row of parts, one legend serves both views.
function crop(root: SVGSVGElement, what: string): void {
  const first = root.querySelector(what + ' text')
  const view = root.viewBox.baseVal
  if (!first || !view) return
  const end = Number(first.getAttribute('y')) - 1.6 * Number(first.getAttribute('font-size'))
  if (end > 0) root.setAttribute('viewBox', `${view.x} ${view.y} ${view.width} ${end - view.y}`)
}

/// Which number on a narrow drawing stands for which part.
function numbersOf(root: SVGSVGElement): Record<string, string> {
  const numbers: Record<string, string> = {}
  for (const callout of root.querySelectorAll('.callout[data-for]')) {
    const text = callout.querySelector('text')?.textContent ?? ''
    const part = callout.getAttribute('data-for') ?? ''
    if (/^\d+$/.test(text)) numbers[part] ??= text
  }
  return numbers
}

function touched(event: Event): void {
  const element = (event.target as Element).closest('[data-rule], [data-field], [data-part], [data-for]')
  if (!element) return
  event.preventDefault()
  const rule = element.getAttribute('data-rule')
  const path = element.closest('.dimension')?.getAttribute('data-field')?.split(' ')[0]
  const part = element.closest('[data-part]')?.getAttribute('data-part') ?? element.getAttribute('data-for')
  const build = get().build?.build ?? 0
  if (rule) go('b', build, 'fit', 'rules', rule)
  else if (path) openField(path)
  else if (part && get().slots.has(part)) openPart(part)
}

type DrawingProps = { view: ViewName; lines?: boolean; legend?: boolean; numbers?: (n: Record<string, string>) => void }

export function Drawing({ view, lines = true, legend = true, numbers }: DrawingProps) {
  const state = use((s) => s.build)
  const part = use((s) => s.part)
  const holder = useRef<HTMLDivElement>(null)
  const frame = useRef<HTMLDivElement>(null)
  const width = useWidth(frame)
  const text = useDrawing(view, width)
  const places = usePlaces(frame, text)

  useLayoutEffect(() => {
    const place = holder.current
    if (!place) return
    const root = svgFrom(text)
    if (root) {
      numbers?.(numbersOf(root))
      bring(root, get().build, width < namesFrom ? '.list' : legend ? '' : '.legend')
    }
    place.replaceChildren(...(root ? [root] : []))
  }, [text, legend])
  useLayoutEffect(() => {
    for (const element of holder.current?.querySelectorAll('[data-part]') ?? []) {
      element.classList.toggle('chosen', element.getAttribute('data-part') === part)
    }
  }, [part, text])

  const links = state && lines ? linksOf(state, part, places) : []
  return (
    <figure class={'view view-' + view}>
      <figcaption>{titles[view]}</figcaption>
      <div class="view-frame" ref={frame}>
        <div
          class="view-svg"
          ref={holder}
          onClick={touched}
          onKeyDown={(e) => {
            if (e.key === 'Enter' || e.key === ' ') touched(e)
          }}
        />
        {!text && <p class="soft view-wait">The drawing comes as soon as it is made.</p>}
        <svg class="links" aria-hidden="true">
          {links.map((l) => (
            <line key={l.a + l.b} class={'link link-' + l.worst.says} x1={l.x1} y1={l.y1} x2={l.x2} y2={l.y2} />
          ))}
        </svg>
        {links.map((l) => (
          <LinkMark key={l.a + l.b} link={l} />
        ))}
      </div>
    </figure>
  )
}

function LinkMark({ link }: { link: Link }) {
  const build = use((s) => s.build?.build ?? 0)
  const button = useRef<HTMLButtonElement>(null)
  useLayoutEffect(() => {
    if (!button.current) return
    button.current.style.left = (link.x1 + link.x2) / 2 + 'px'
    button.current.style.top = (link.y1 + link.y2) / 2 + 'px'
  })
  const name = `${labelOf(link.a)} and ${labelOf(link.b)}: ${link.count} open, worst ${saysWord[link.worst.says]}: ${link.worst.because}`
  return (
    <button ref={button} class="link-mark" title={name} aria-label={name} onClick={() => go('b', build, 'fit', 'between', link.a, link.b)}>
      <Sign says={link.worst.says} size={14} />
      {link.count > 1 ? link.count : ''}
    </button>
  )
}

/// The parts of the drawing once more as a row of buttons, each with the worst that is known of it.
export function PartKey({ numbers = {} }: { numbers?: Record<string, string> }) {
  const state = use((s) => s.build)
  const schema = use((s) => s.schema)
  const part = use((s) => s.part)
  if (!state || !schema) return null
  const there = new Set(state.slots_present)
  for (const [path, value] of Object.entries(state.values)) {
    if (value.from === 'sketched') there.add(path.split('.')[0] ?? '')
  }
  const slots = schema.slots.filter((s) => (s.is_part || s.key === 'pack' || s.key === 'donor') && there.has(s.key))
  if (!slots.length) return null
  return (
    <ul class="part-key" aria-label="parts of the bike">
      {slots.map((s) => {
        const worst = worstOf(state.findings, s.key)
        return (
          <li key={s.key}>
            <button class={part === s.key ? 'on' : ''} aria-pressed={part === s.key} onClick={() => openPart(s.key)}>
              {numbers[s.key] && <span class="part-no">{numbers[s.key]}</span>}
              {worst && worst.says !== 'fits' && <Sign says={worst.says} size={14} />}
              {s.label}
              {worst && worst.says !== 'fits' && <span class="sr">, {saysWord[worst.says]}</span>}
            </button>
          </li>
        )
      })}
    </ul>
  )
}
