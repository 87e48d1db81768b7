// SPDX-License-Identifier: MIT
// A limit that a bike is held to, and the slider that moves it.
import type { Yardstick } from './api'

/// `at`: the number in the yardstick's unit; null where there is none, or it is not understood yet.
export type Wished = { on: boolean; text: string; at: number | null }

/// Several limits at once, each in its yardstick's unit.
export type Move = (to: [string, number][]) => void

export function textOf(y: Yardstick, at: number): string {
  const decimals = y.step < 0.5 ? 1 : 0
  return `${at.toFixed(decimals)}${y.unit ? ' ' + y.unit : ''}`
}

/// From the loosest that is there, or was asked for, to the tightest.
export function sliderOf(y: Yardstick, low: number, high: number): { min: number; max: number; step: number } {
  const step = y.step >= 0.5 ? Math.max(1, Math.round(y.step)) : 0.1
  return { min: Math.floor(low / step + 1e-6) * step, max: Math.ceil(high / step - 1e-6) * step, step }
}

/// One limit, moved by thumb or keys.
export function Limit({ y, low, high, wished, move, label }: { y: Yardstick; low: number; high: number; wished: Wished; move: Move; label?: string }) {
  const at = wished.on ? wished.at : null
  const { min, max, step } = sliderOf(y, at === null ? low : Math.min(low, at), at === null ? high : Math.max(high, at))
  const loosest = y.more_is_better ? min : max
  return (
    <span class="limit">
      {label && <span class="limit-name">{label}</span>}
      <span class="limit-end">{textOf(y, min)}</span>
      <input
        type="range"
        min={min}
        max={max}
        step={step}
        value={at ?? loosest}
        aria-label={`${y.label}: ${y.more_is_better ? 'at least' : 'at most'}`}
        aria-valuetext={at === null ? 'no limit' : textOf(y, at)}
        onInput={(e) => move([[y.key, Number(e.currentTarget.value)]])}
      />
      <span class="limit-end">{textOf(y, max)}</span>
    </span>
  )
}
