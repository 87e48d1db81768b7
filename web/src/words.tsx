// SPDX-License-Identifier: MIT
// Small things that are drawn everywhere: the sign of a verdict, a number with its unit, cautions.
import type { ComponentChildren } from 'preact'
import type { Finding } from './api'

export type Says = Finding['says'] | 'none'
export const saysWord: Record<Says, string> = {
  clash: 'clash',
  unmeasured: 'unmeasured',
  tight: 'tight',
  fits: 'fits',
  none: 'not held against anything',
}

/// Two things beside each other: with room between, touching, in each other's place, one not known.
export function Sign({ says, size = 20 }: { says: Says; size?: number }) {
  return (
    <svg class={'sign sign-' + says} width={size} height={(size * 18) / 20} viewBox="0 0 20 18" aria-hidden="true">
      {says === 'fits' && <path d="M1 4h6.5v10H1zM12.5 4H19v10h-6.5z" class="s-line" />}
      {says === 'tight' && <path d="M2 4h8v10H2zM10 4h8v10h-8z" class="s-line" />}
      {says === 'tight' && <path d="M10 2v14" class="s-bold" />}
      {says === 'clash' && <path d="M1 2h11.5v10H1zM7.5 6H19v10H7.5z" class="s-line" />}
      {says === 'clash' && <path d="M7.5 6h5v6h-5z" class="s-face" />}
      {says === 'unmeasured' && <path d="M1 4h6.5v10H1z" class="s-line" />}
      {says === 'unmeasured' && <path d="M11 4h8v10h-8z" class="s-dash" />}
      {says === 'none' && <path d="M3 9h14" class="s-dash" />}
    </svg>
  )
}

export function Verdict({ says }: { says: Says }) {
  return (
    <span class={'verdict v-' + says}>
      <Sign says={says} />
      <span>{saysWord[says]}</span>
    </span>
  )
}

/// A text of the program with degrees as they are written by hand.
export const degrees = (text: string): string => text.replace(/\bdeg([CF])\b/g, '°$1')

/// What the program says as part of a line, as a sentence of its own.
export const sentence = (text: string): string => (text ? text[0]!.toUpperCase() + text.slice(1) + (/[.!?]$/.test(text) ? '' : '.') : '')

/// '117 km/h' with the number large and the unit small.
export function Fig({ text: plain, class: name = '' }: { text: string; class?: string }) {
  const text = degrees(plain)
  const cut = /^([<>~+\-−]?\s?[\d][\d\s.,'  ]*)(.*)$/.exec(text)
  if (!cut) return <span class={'fig fig-word ' + name}>{text || 'not known'}</span>
  return (
    <span class={'fig ' + name}>
      {(cut[1] ?? '').trim()}
      {cut[2]?.trim() ? <span class="unit"> {cut[2].trim()}</span> : null}
    </span>
  )
}

/// A grade as a rider says it: rise over run in per cent.
export const percent = (text: string): string =>
  /^\d*\.?\d+$/.test(text) ? Number((Number(text) * 100).toPrecision(3)) + ' %' : text

const unitEnd = /^([+\-−]?\d[\d\s.,]*?)\s*([^\d\s.,].*)?$/

/// '5.1 s', '4.7 s' as '4.7 to 5.1 s': the smaller first, a unit they share said once.
export function fromTo(one: string, other: string): string {
  if (one === other) return one
  const [a, b] = [unitEnd.exec(one), unitEnd.exec(other)]
  if (!a || !b || (a[2] ?? '') !== (b[2] ?? '')) return `${one} to ${other}`
  const value = (cut: RegExpExecArray) => Number(cut[1]!.replace(/\s/g, '').replace('−', '-'))
  const [low, high] = value(a) <= value(b) ? [a, b] : [b, a]
  return `${low[1]} to ${high[1]}${high[2] ? ' ' + high[2] : ''}`
}

/// From low to high; while only a few draws are in, it says so. What says no more than the figure
/// beside it is left out.
export function Spread({ low, high, ready, beside = '' }: { low: string; high: string; ready: boolean; beside?: string }) {
  if (!ready) return <span class="spread pending">spread is being worked out</span>
  if ((!low && !high) || (low === high && low === beside)) return null
  return <span class="spread">{degrees(fromTo(low, high))}</span>
}

type WishProps = { wish: string; met: string; by: string; less?: boolean }

/// A wish and whether it is met; `less`: the wish is a most, as with money and mass.
export function Wish({ wish, met, by, less = false }: WishProps) {
  if (!wish || met === 'none') return null
  const word = met === 'met' ? 'met' : met === 'short' ? (by ? (less ? 'over by ' : 'short by ') + by : 'not met') : 'not known yet'
  return (
    <span class={'wish wish-' + met}>
      <svg class="tick" width="12" height="12" viewBox="0 0 12 12" aria-hidden="true">
        {met === 'met' && <path d="M1.5 6.5l3 3 6-7" />}
        {met === 'short' && <path d="M2 2l8 8M10 5v5H5" />}
        {met === 'unknown' && <path d="M2 6h8" />}
      </svg>
      wish {wish}: {word}
    </span>
  )
}

export function Caution({ children }: { children: ComponentChildren }) {
  return (
    <p class="caution">
      <svg width="22" height="20" viewBox="0 0 22 20" aria-hidden="true">
        <path d="M11 1.5L21 18.5H1z" class="s-line" />
        <path d="M11 7v6M11 14.8v1.6" class="s-bold" />
      </svg>
      <span>
        <b>Caution.</b> {children}
      </span>
    </p>
  )
}

/// The program's caution without the word that the sign already says: 'Before riding: ...'.
export const afterCaution = (text: string): string => text.replace(/^CAUTION:?\s*/i, '').replace(/^./, (c) => c.toUpperCase())

/// What may hurt at the work that a slot stands for, beside the slot.
const cautions: Record<string, string> = {
  cell:
    'Cells are live from the day they arrive and cannot be switched off. One tool across two terminals ' +
    'is a weld. Rings off, insulated tools, one terminal bare at a time; read the data sheet before the box is opened.',
  pack:
    'The pack can pass kiloamps and, over 60 V, it can kill. Build it in parts that stay under 60 V, join them last, ' +
    'with gloves and a second person there. A damaged or swollen cell goes outside and is not used.',
  bms:
    'Sense leads are live. Check every one with a meter before it is plugged in; one in the wrong place burns the board.',
  charger:
    'A charger puts mains and pack in one box. Whoever works on the mains side must be allowed to where you live. ' +
    'Stay near the first charges, with the bike where a fire could be left alone.',
  contactor:
    'Closing onto an empty controller without pre-charge can weld it shut. Treat the bus as live until a meter says otherwise.',
  precharge: 'The controller keeps its charge after the pack is off. Wait, measure, then touch.',
  fuse: 'A fuse without a DC rating over the full pack voltage may burn on as an arc. Fit it last, take it out first.',
  disconnect: 'Pull it before any work. Then measure: pulled is not the same as dead.',
  controller:
    'Its capacitors hold the pack voltage after the key is off. First spin with the rear wheel off the ground and ' +
    'the bike tied down.',
  motor: 'A motor that is turned makes voltage. At the first spin nobody stands in line with the chain.',
  wiring:
    'Over 60 V this can kill. Service plug out, meter on the two points, then hands. A second person is there. ' +
    'Local rules and a licensed person come before anything said here.',
  layout:
    'Welding near a frame weakens it, and welding near cells can set them off: cells out of the room, leads off. ' +
    'A weld that carries a load is for somebody who is qualified for it.',
  chain: 'Never turn the wheel under power with fingers near the chain. It takes them off.',
  limits:
    'Change one limit at a time, rear wheel off the ground. A setting that was right for another motor can lock the wheel.',
}

export function SlotCaution({ slot }: { slot: string }) {
  const text = cautions[slot]
  return text ? <Caution>{text}</Caution> : null
}

export const allCautions = cautions

export function when(text: string): string {
  // A bare day is that day wherever one is, and has no hour.
  const day = /^\d{4}-\d{2}-\d{2}$/.test(text)
  const date = new Date(day ? text + 'T12:00' : text)
  if (Number.isNaN(date.getTime())) return text
  const today = !day && new Date().toDateString() === date.toDateString()
  return today
    ? date.toLocaleTimeString([], { hour: '2-digit', minute: '2-digit' })
    : date.toLocaleDateString([], { year: 'numeric', month: 'short', day: 'numeric' })
}

export function plural(n: number, one: string, many: string): string {
  return n === 1 ? '1 ' + one : n + ' ' + many
}

/// 12 400 as a person says it.
export function many(n: number): string {
  if (n < 10000) return n.toLocaleString('en-GB').replace(/,/g, ' ')
  const words: [number, string][] = [[1e9, 'thousand million'], [1e6, 'million'], [1e3, 'thousand']]
  const [size, word] = words.find(([s]) => n >= s) ?? [1, '']
  return (n / size < 10 && size > 1e3 ? (n / size).toFixed(1) : Math.round(n / size)) + ' ' + word
}
