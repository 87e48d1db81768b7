// SPDX-License-Identifier: MIT
// How the bike is wired: what lacks, every wire with its size, the drawings to print, the settings.
import { useState } from 'preact/hooks'
import type { PrintName, Slot, Wiring as WiringIs } from './api'
import { Pieces, sections } from './pieces'
import { Forms, StageHead, useOf } from './stage'
import { use } from './store'
import { plural } from './words'

export function Wiring() {
  const told = useOf<WiringIs>('wiring')
  const schema = use((s) => s.schema)
  const keys = schema?.stages.find((s) => s.key === 'wiring')?.slots ?? []
  const slots = keys.map((k) => schema?.slots.find((s) => s.key === k)).filter((s): s is Slot => !!s && !s.is_part)
  return (
    <div class="wiring-stage">
      <StageHead stage="wiring" />
      {told ? <Told told={told} /> : <p class="soft">The circuit is being worked out.</p>}
      {slots.length > 0 && <Forms slots={slots} filter="empty" />}
    </div>
  )
}

function Told({ told }: { told: WiringIs }) {
  const [first, ...rest] = sections(told.circuit)
  return (
    <>
      {first && <Pieces pieces={first.pieces} />}
      <Prints />
      <section>
        <h2>The circuit</h2>
        {rest.map((s, i) => (
          <details key={s.title} class="fold" open={i === 0}>
            <summary>{s.title}</summary>
            <Pieces pieces={s.pieces} />
          </details>
        ))}
      </section>
      <section>
        <h2>Settings, in the order in which they must act</h2>
        <details class="fold">
          <summary>Every number that is typed in</summary>
          <Pieces pieces={told.settings} />
        </details>
      </section>
    </>
  )
}

function Prints() {
  const prints = useOf<PrintName[]>('prints')
  const build = use((s) => s.build?.build ?? 0)
  const revision = use((s) => s.build?.revision ?? 0)
  const [open, setOpen] = useState('schematic')
  const [page, setPage] = useState(1)
  const print = prints?.find((p) => p.key === open) ?? prints?.[0]
  if (!prints || !print || !build) return null
  const at = Math.min(page, Math.max(print.pages, 1))
  const base = `/api/builds/${build}/prints/${print.key}`
  const choose = (key: string) => {
    setOpen(key)
    setPage(1)
  }
  return (
    <section class="prints">
      <h2>Drawings to print</h2>
      <div class="choose" role="radiogroup" aria-label="which drawing">
        {prints.map((p) => (
          <label key={p.key} class={p.key === print.key ? 'on' : ''}>
            <input type="radio" name="print" checked={p.key === print.key} onChange={() => choose(p.key)} />
            {p.key.replace(/-/g, ' ')}
          </label>
        ))}
      </div>
      <p class="tools">
        <span class="soft">{print.title}</span>
        <a class="button" href={base + '.pdf'} download>
          PDF, {plural(print.pages, 'page', 'pages')}
        </a>
        <a class="button quiet" href={base + '.csv'} download>
          CSV
        </a>
        {print.pages > 1 && (
          <>
            <button class="quiet" disabled={at <= 1} onClick={() => setPage(at - 1)}>
              Page before
            </button>
            <span>
              page {at} of {print.pages}
            </span>
            <button class="quiet" disabled={at >= print.pages} onClick={() => setPage(at + 1)}>
              Next page
            </button>
          </>
        )}
      </p>
      {print.pages > 0 ? (
        <div class="print-page" tabIndex={0} role="group" aria-label={`${print.title}, page ${at}; the same content stands in the tables below and in the CSV`}>
          <img src={`${base}.svg?page=${at}&of=${revision}`} alt={`${print.title}, page ${at}`} loading="lazy" />
        </div>
      ) : (
        <p class="soft">There is nothing to draw yet.</p>
      )}
    </section>
  )
}
