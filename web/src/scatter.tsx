// SPDX-License-Identifier: MIT
// Every bike that was kept as a point in two of its figures. The corner where the two limits meet is
// moved by hand: what lies beyond it falls away. The sliders below do the same with keys.
import { useEffect, useRef, useState } from 'preact/hooks'
import type { Pick, SearchPoint, SearchSpan, Yardstick } from './api'
import { Limit, sliderOf, textOf } from './limit'
import type { Move } from './limit'
import { letter } from './picks'

type Axis = { y: Yardstick; index: number; min: number; max: number }

const margin = { left: 58, right: 30, top: 14, bottom: 42 }

/// Four to seven round numbers.
function ticksOf(min: number, max: number, most: number): number[] {
  const raw = (max - min) / most
  const ten = 10 ** Math.floor(Math.log10(raw))
  const step = [1, 2, 5, 10].map((k) => k * ten).find((s) => s >= raw) ?? 10 * ten
  const out = []
  for (let v = Math.ceil(min / step) * step; v <= max + step * 1e-6; v += step) out.push(Number(v.toPrecision(8)))
  return out
}

export function Scatter(p: {
  yardsticks: Yardstick[]
  points: SearchPoint[]
  spans: SearchSpan[]
  bounds: Map<string, number | null>
  list: Pick[]
  move: Move
}) {
  const { yardsticks, points, bounds } = p
  const box = useRef<HTMLDivElement>(null)
  const drag = useRef(false)
  const [width, setWidth] = useState(720)
  const [xKey, setX] = useState('money')
  const [yKey, setY] = useState('distance')
  const [near, setNear] = useState(-1)
  useEffect(() => {
    const place = box.current
    if (!place) return
    const look = new ResizeObserver(() => setWidth(Math.max(280, Math.round(place.clientWidth))))
    look.observe(place)
    return () => look.disconnect()
  }, [])

  const usable = yardsticks.filter((y) => p.spans.some((s) => s.quantity === y.key && s.high > s.low))
  const axisOf = (key: string, other: number): Axis | null => {
    const y = usable.find((u) => u.key === key) ?? usable[other]
    const span = p.spans.find((s) => s.quantity === y?.key)
    if (!y || !span) return null
    const at = bounds.get(y.key) ?? null
    const { min, max } = sliderOf(y, at === null ? span.low : Math.min(span.low, at), at === null ? span.high : Math.max(span.high, at))
    return { y, index: yardsticks.indexOf(y), min, max }
  }
  const ax = axisOf(xKey, 0)
  const ay = axisOf(yKey, 1)
  if (!ax || !ay || usable.length < 2) return null

  const height = Math.round(Math.min(440, Math.max(280, width * 0.62)))
  const right = width - margin.right
  const bottom = height - margin.bottom
  const px = (v: number) => margin.left + ((v - ax.min) / (ax.max - ax.min)) * (right - margin.left)
  const py = (v: number) => bottom - ((v - ay.min) / (ay.max - ay.min)) * (bottom - margin.top)
  const kept = (at: (number | null)[]) =>
    yardsticks.every((y, i) => {
      const bound = bounds.get(y.key) ?? null
      const v = at[i] ?? null
      if (bound === null) return true
      return v !== null && (y.more_is_better ? v >= bound - y.step * 1e-3 : v <= bound + y.step * 1e-3)
    })
  const shown = points.map((point) => ({ point, x: point.at[ax.index] ?? null, y: point.at[ay.index] ?? null, in: kept(point.at) }))
  const within = shown.filter((s) => s.in)
  const edge = (a: Axis) => bounds.get(a.y.key) ?? (a.y.more_is_better ? a.min : a.max)
  const corner = { x: px(edge(ax)), y: py(edge(ay)) }

  const where = (event: PointerEvent): { x: number; y: number } => {
    const r = (event.currentTarget as Element).closest('svg')!.getBoundingClientRect()
    return { x: ((event.clientX - r.left) / r.width) * width, y: ((event.clientY - r.top) / r.height) * height }
  }
  const put = (at: { x: number; y: number }) => {
    const limit = (a: Axis, share: number): [string, number] => {
      const { step } = sliderOf(a.y, a.min, a.max)
      const v = a.min + Math.min(1, Math.max(0, share)) * (a.max - a.min)
      return [a.y.key, Math.round(v / step) * step]
    }
    p.move([limit(ax, (at.x - margin.left) / (right - margin.left)), limit(ay, (bottom - at.y) / (bottom - margin.top))])
  }
  const hover = (event: PointerEvent) => {
    if (drag.current) return put(where(event))
    const at = where(event)
    let best = -1
    let least = 16
    shown.forEach((s, i) => {
      if (s.x === null || s.y === null) return
      const away = Math.hypot(px(s.x) - at.x, py(s.y) - at.y)
      if (away < least) {
        least = away
        best = i
      }
    })
    setNear(best)
  }
  const read = shown[near]?.point
  const says = `${ax.y.brief} against ${ay.y.brief}: ${shown.length} bikes shown, ${within.length} of them within the limits`
  const better = (a: Axis) => (a.y.more_is_better ? 'more is better' : 'less is better')
  const name = (a: Axis) => a.y.brief + (a.y.unit ? ', ' + a.y.unit : '')
  const choice = (label: string, key: string, choose: (k: string) => void, not: string) => (
    <label>
      {label}{' '}
      <select value={key} onChange={(e) => choose(e.currentTarget.value)}>
        {usable.filter((u) => u.key !== not).map((u) => (
          <option key={u.key} value={u.key}>
            {u.brief}
          </option>
        ))}
      </select>
    </label>
  )
  const limit = (a: Axis) => {
    const span = p.spans.find((s) => s.quantity === a.y.key)!
    const at = bounds.get(a.y.key) ?? null
    return <Limit y={a.y} low={span.low} high={span.high} wished={{ on: at !== null, text: '', at }} move={p.move} label={`${a.y.brief} ${a.y.more_is_better ? 'at least' : 'at most'} ${at === null ? 'any' : textOf(a.y, at)}`} />
  }
  return (
    <figure class="scatter">
      <figcaption>
        <h2>What one thing costs in another</h2>
        <p class="tools">
          {choice('across', ax.y.key, setX, ay.y.key)}
          {choice('upwards', ay.y.key, setY, ax.y.key)}
        </p>
      </figcaption>
      <div ref={box} class="scatter-frame">
        <svg
          viewBox={`0 0 ${width} ${height}`}
          width={width}
          height={height}
          role="img"
          aria-label={says}
          onPointerMove={hover}
          onPointerLeave={() => setNear(-1)}
          onPointerUp={() => (drag.current = false)}
          onPointerCancel={() => (drag.current = false)}
          onClick={(e) => put(where(e as unknown as PointerEvent))}
        >
          <rect class="sc-out" x={ax.y.more_is_better ? margin.left : corner.x} y={margin.top} width={Math.max(0, ax.y.more_is_better ? corner.x - margin.left : right - corner.x)} height={bottom - margin.top} />
          <rect class="sc-out" x={margin.left} y={ay.y.more_is_better ? corner.y : margin.top} width={right - margin.left} height={Math.max(0, ay.y.more_is_better ? bottom - corner.y : corner.y - margin.top)} />
          {ticksOf(ax.min, ax.max, width < 500 ? 4 : 7).map((t) => (
            <g key={'x' + t}>
              <line class="sc-grid" x1={px(t)} x2={px(t)} y1={margin.top} y2={bottom} />
              <text class="sc-tick" x={px(t)} y={bottom + 16} text-anchor="middle">
                {t.toLocaleString('en-GB').replace(/,/g, ' ')}
              </text>
            </g>
          ))}
          {ticksOf(ay.min, ay.max, 6).map((t) => (
            <g key={'y' + t}>
              <line class="sc-grid" x1={margin.left} x2={right} y1={py(t)} y2={py(t)} />
              <text class="sc-tick" x={margin.left - 7} y={py(t) + 4} text-anchor="end">
                {t.toLocaleString('en-GB').replace(/,/g, ' ')}
              </text>
            </g>
          ))}
          <path class="sc-axis" d={`M${margin.left} ${margin.top}V${bottom}H${right}`} />
          <text class="sc-name" x={right} y={height - 6} text-anchor="end">
            {name(ax)}; {better(ax)}
          </text>
          <text class="sc-name" x={margin.left + 8} y={margin.top + 12}>
            {name(ay)}; {better(ay)}
          </text>
          {shown.map((s, i) =>
            s.x === null || s.y === null ? null : s.in ? (
              <circle key={i} class="sc-in" cx={px(s.x)} cy={py(s.y)} r={i === near ? 5 : 2.7} />
            ) : (
              <path key={i} class="sc-off" d={`M${px(s.x) - 2.4} ${py(s.y) - 2.4}l4.8 4.8m0 -4.8l-4.8 4.8`} />
            ),
          )}
          {p.list.map((pick, i) => {
            const n = (a: Axis) => pick.numbers.find((x) => x.quantity === a.y.key)?.value ?? null
            const x = n(ax)
            const y = n(ay)
            if (x === null || y === null) return null
            return (
              <g key={i} class="sc-pick" transform={`translate(${px(x)} ${py(y)})`}>
                <circle r="10" />
                <text y="4.5" text-anchor="middle">
                  {letter(i)}
                </text>
              </g>
            )
          })}
          <line class="sc-limit" x1={corner.x} x2={corner.x} y1={margin.top} y2={bottom} />
          <line class="sc-limit" x1={margin.left} x2={right} y1={corner.y} y2={corner.y} />
          <g
            class="sc-corner"
            transform={`translate(${corner.x} ${corner.y})`}
            onPointerDown={(e) => {
              drag.current = true
              ;(e.currentTarget as Element).setPointerCapture(e.pointerId)
              e.preventDefault()
            }}
            onPointerMove={(e) => {
              if (drag.current) put(where(e))
            }}
            onClick={(e) => e.stopPropagation()}
          >
            <circle class="sc-hold" r="24" />
            <path d="M0 -9L9 0L0 9L-9 0Z" />
          </g>
        </svg>
      </div>
      <p class="scatter-read">
        {read
          ? yardsticks.slice(0, 6).map((y, i) => (read.at[i] === null || read.at[i] === undefined ? '' : `${y.brief} ${textOf(y, read.at[i]!)}`)).filter(Boolean).join(', ')
          : 'Move the corner: what lies beyond it falls away. Dots are within the limits, crosses are not; letters are the short list.'}
      </p>
      <div class="scatter-limits">
        {limit(ax)}
        {limit(ay)}
      </div>
      <Table yardsticks={yardsticks} within={within.map((w) => w.point)} x={ax.index} />
    </figure>
  )
}

const rowsMost = 60

function Table({ yardsticks, within, x }: { yardsticks: Yardstick[]; within: SearchPoint[]; x: number }) {
  const [open, setOpen] = useState(false)
  const sign = yardsticks[x]?.more_is_better ? -1 : 1
  const rows = open ? [...within].sort((a, b) => sign * ((a.at[x] ?? Infinity) - (b.at[x] ?? Infinity))).slice(0, rowsMost) : []
  return (
    <details class="fold" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>The same as a table</summary>
      {open && (
        <div class="table-frame" tabIndex={0} role="region" aria-label="bikes within the limits, table">
          <table class="numbers">
            <thead>
              <tr>
                {yardsticks.map((y) => (
                  <th key={y.key} scope="col">
                    {y.brief}
                    {y.unit ? ', ' + y.unit : ''}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {rows.map((r, i) => (
                <tr key={i}>
                  {r.at.map((v, k) => (
                    <td key={k}>{v === null ? 'never' : v.toFixed((yardsticks[k]?.step ?? 1) < 0.5 ? 1 : 0)}</td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
          {within.length > rowsMost && <p class="soft">The first {rowsMost} of the {within.length} shown.</p>}
        </div>
      )}
    </details>
  )
}
