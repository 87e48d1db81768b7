// SPDX-License-Identifier: MIT
// A plot from the program: read with the pointer or the keys, the same figures as a table beside
// it, to be taken away as SVG, PNG or CSV.
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks'
import type { Plot as PlotIs } from './api'
import { use } from './store'
import { svgFrom } from './svg'
import { ask, askText, tell } from './talk'

type Scale = { left: number; right: number; top: number; bottom: number; low: number; high: number; log: boolean }

function scaleOf(root: SVGSVGElement | null): Scale | null {
  const group = root?.querySelector('[data-x-low]')
  if (!group) return null
  const n = (key: string) => Number(group.getAttribute('data-' + key))
  const scale = {
    left: n('left'),
    right: n('right'),
    top: n('top'),
    bottom: n('bottom'),
    low: n('x-low'),
    high: n('x-high'),
    log: group.getAttribute('data-x-scale') === 'log',
  }
  return Number.isFinite(scale.left + scale.right + scale.low + scale.high) && scale.high > scale.low ? scale : null
}

const plain = (text: string): number => Number(text.replace(/[^\d.,eE+\-]/g, '').replace(/,/g, ''))

function placeOf(x: number, s: Scale): number {
  const share = s.log
    ? (Math.log(x) - Math.log(s.low)) / (Math.log(s.high) - Math.log(s.low))
    : (x - s.low) / (s.high - s.low)
  return s.left + share * (s.right - s.left)
}

function download(name: string, content: Blob): void {
  const link = document.createElement('a')
  link.href = URL.createObjectURL(content)
  link.download = name
  link.click()
  window.setTimeout(() => URL.revokeObjectURL(link.href), 2000)
}

async function asPng(svg: string): Promise<Blob> {
  const picture = new Image()
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }))
  try {
    picture.src = address
    await picture.decode()
    const canvas = document.createElement('canvas')
    canvas.width = picture.naturalWidth * 2
    canvas.height = picture.naturalHeight * 2
    canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height)
    return await new Promise((good, bad) => canvas.toBlob((b) => (b ? good(b) : bad(new Error('No picture came of it.'))), 'image/png'))
  } finally {
    URL.revokeObjectURL(address)
  }
}

export function Plot({ name, title, ghost }: { name: string; title: string; ghost: number }) {
  const build = use((s) => s.build?.build ?? 0)
  const revision = use((s) => s.build?.revision ?? 0)
  const [plot, setPlot] = useState<PlotIs | null>(null)
  const [at, setAt] = useState(-1)
  const holder = useRef<HTMLDivElement>(null)
  const [scale, setScale] = useState<Scale | null>(null)
  const [size, setSize] = useState({ width: 0, height: 0 })
  const box = useRef<HTMLDivElement>(null)
  const near = useNear(box)

  useEffect(() => {
    if (!build || !near) return
    const stop = new AbortController()
    const before = ghost && ghost !== revision ? '&ghost=' + ghost : ''
    const width = Math.round((box.current?.clientWidth ?? 760) / 20) * 20
    ask<PlotIs>(`builds/${build}/plots/${name}?width=${width}&revision=${revision}${before}`, stop.signal).then(setPlot).catch(tell)
    return () => stop.abort()
  }, [build, revision, name, ghost, near])

  useLayoutEffect(() => {
    const place = holder.current
    if (!place || !plot) return
    const root = svgFrom(plot.svg)
    place.replaceChildren(...(root ? [root] : []))
    const view = root?.viewBox.baseVal
    setSize({ width: view?.width ?? 0, height: view?.height ?? 0 })
    root?.removeAttribute('width')
    root?.removeAttribute('height')
    setScale(scaleOf(root))
  }, [plot])

  const rows = plot?.table.rows ?? []
  const xs = rows.map((r) => plain(r[0] ?? ''))
  const usable = scale && xs.length > 1 && xs.every(Number.isFinite)
  const follow = (event: PointerEvent) => {
    if (!usable || !holder.current || !size.width) return
    const r = holder.current.getBoundingClientRect()
    const x = ((event.clientX - r.left) / r.width) * size.width
    let best = 0
    xs.forEach((v, i) => {
      if (Math.abs(placeOf(v, scale) - x) < Math.abs(placeOf(xs[best]!, scale) - x)) best = i
    })
    setAt(best)
  }
  const base = `/api/builds/${build}/plots/${name}`
  const take = async (kind: 'svg' | 'png' | 'csv') => {
    try {
      const text = await askText(base.slice(5) + (kind === 'csv' ? '.csv' : '.svg'))
      if (kind === 'png') download(name + '.png', await asPng(text))
      else download(`${name}.${kind}`, new Blob([text], { type: kind === 'csv' ? 'text/csv' : 'image/svg+xml' }))
    } catch (error) {
      tell(error)
    }
  }
  return (
    <figure class="plot" ref={box as never} id={'plot-' + name}>
      <figcaption>
        <h3 class={plot?.svg ? 'sr' : ''}>{plot?.title || title}</h3>
        {plot?.missing && <p class="soft">Cannot be drawn yet: {plot.missing}</p>}
      </figcaption>
      <div class="plot-frame" onPointerMove={follow} onPointerLeave={() => setAt(-1)}>
        <div ref={holder} class="plot-svg" />
        {usable && at >= 0 && (
          <svg class="cross" viewBox={`0 0 ${size.width} ${size.height}`} aria-hidden="true">
            <line x1={placeOf(xs[at]!, scale)} x2={placeOf(xs[at]!, scale)} y1={scale.top} y2={scale.bottom} />
          </svg>
        )}
      </div>
      {plot && rows.length > 0 && (
        <>
          {usable && <Reader plot={plot} at={at} setAt={setAt} name={name} />}
          <p class="plot-tools">
            <span class="soft">save as</span>
            {(['svg', 'png', 'csv'] as const).map((k) => (
              <button key={k} class="quiet" onClick={() => void take(k)} aria-label={`save ${plot.title} as ${k.toUpperCase()}`}>
                {k.toUpperCase()}
              </button>
            ))}
          </p>
          <PlotTable plot={plot} />
        </>
      )}
    </figure>
  )
}

/// True once the place is near the window: plots far below are not asked for.
function useNear(box: { current: HTMLElement | null }): boolean {
  const [near, setNear] = useState(false)
  useEffect(() => {
    if (!box.current || near) return
    const watch = new IntersectionObserver((seen) => seen.some((s) => s.isIntersecting) && setNear(true), { rootMargin: '400px' })
    watch.observe(box.current)
    return () => watch.disconnect()
  }, [near])
  return near
}

function Reader({ plot, at, setAt, name }: { plot: PlotIs; at: number; setAt: (n: number) => void; name: string }) {
  const rows = plot.table.rows
  const row = rows[at]
  return (
    <div class="reader">
      <label for={'read-' + name}>read at</label>
      <input
        id={'read-' + name}
        type="range"
        min={0}
        max={rows.length - 1}
        value={Math.max(0, at)}
        aria-valuetext={row ? plot.table.columns.map((c, i) => `${c}: ${row[i] ?? ''}`).join(', ') : 'not read yet'}
        onInput={(e) => setAt(Number(e.currentTarget.value))}
        onFocus={() => at < 0 && setAt(0)}
      />
      <dl class="read-out">
        {plot.table.columns.slice(0, 7).map((c, i) => (
          <div key={c + i}>
            <dt>{c}</dt>
            <dd>{row ? row[i] : '–'}</dd>
          </div>
        ))}
      </dl>
    </div>
  )
}

function PlotTable({ plot }: { plot: PlotIs }) {
  const [open, setOpen] = useState(false)
  return (
    <details class="fold" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>The same as a table</summary>
      {open && (
        <div class="table-frame" tabIndex={0} role="region" aria-label={plot.title + ', table'}>
          <table class="numbers">
            <thead>
              <tr>
                {plot.table.columns.map((c, i) => (
                  <th key={i} scope="col">
                    {c}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {plot.table.rows.map((r, i) => (
                <tr key={i}>
                  {r.map((cell, j) => (j === 0 ? <th key={j} scope="row">{cell}</th> : <td key={j}>{cell}</td>))}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </details>
  )
}
