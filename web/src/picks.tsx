// SPDX-License-Identifier: MIT
// The few bikes that a search leaves: why each, what it gives up, its parts as figures to shop for.
import { useState } from 'preact/hooks'
import type { GiveWay, Pick, SearchState, State } from './api'
import { linkTo, use } from './store'
import { post, refreshGarage, tell } from './talk'
import { Caution, Wish } from './words'

export const letter = (i: number): string => String.fromCharCode(65 + i)

export function ShortList(p: {
  list: Pick[]
  running: boolean
  loose: boolean
  state: SearchState
  beside: number[]
  setBeside: (b: number[]) => void
  leaveOut: (part: string) => void
}) {
  if (!p.list.length) return null
  return (
    <section class="picks">
      <h2>{p.loose ? 'The bikes that these would be' : 'Worth a look, best first'}</h2>
      <ol>
        {p.list.map((pick, i) => (
          <PickCard key={pick.pick + pick.title + i} pick={pick} at={i} {...p} />
        ))}
      </ol>
    </section>
  )
}

function PickCard({ pick, at, state, beside, setBeside, leaveOut }: { pick: Pick; at: number; state: SearchState; beside: number[]; setBeside: (b: number[]) => void; leaveOut: (part: string) => void }) {
  const done = pick.pick >= 0
  const on = beside.includes(pick.pick)
  return (
    <li class="pick-card">
      <h3>
        <span class="pick-letter">{letter(at)}</span> {pick.title}
      </h3>
      <p class="pick-why">
        <b>For it:</b> {pick.why.join('; ')}.{' '}
        {pick.gives_up.length > 0 && (
          <>
            <b>Gives up:</b> {pick.gives_up.join('; ')}.
          </>
        )}
      </p>
      <dl class="pick-numbers">
        {pick.numbers.slice(0, 6).map((n) => (
          <div key={n.quantity} class={'met-' + n.met}>
            <dt>{n.label}</dt>
            <dd>
              {n.text}
              {n.met === 'short' && <span class="tag">short</span>}
            </dd>
          </div>
        ))}
      </dl>
      <Parts pick={pick} leaveOut={leaveOut} />
      {pick.settle.length > 0 && <p class="pick-settle">Still to settle: {pick.settle.join('; ')}.</p>}
      {pick.holds && <p class="pick-settle">{pick.holds}</p>}
      {pick.cautions.map((c) => (
        <Caution key={c}>{c}</Caution>
      ))}
      {done && (
        <p class="tools">
          <Take pick={pick} at={at} state={state} />
          <label>
            <input
              type="checkbox"
              checked={on}
              disabled={!on && beside.length >= 4}
              onChange={(e) => setBeside(e.currentTarget.checked ? [...beside, pick.pick] : beside.filter((b) => b !== pick.pick))}
            />
            lay {letter(at)} beside others
          </label>
        </p>
      )}
    </li>
  )
}

const fromWords: Record<Pick['parts'][number]['from'], string> = { own: 'your own', sketch: 'to shop for', sheet: '' }

function Parts({ pick, leaveOut }: { pick: Pick; leaveOut: (part: string) => void }) {
  return (
    <details class="pick-parts">
      <summary>The parts, as figures to shop for</summary>
      <dl>
        {pick.parts.map((part) => (
          <div key={part.place}>
            <dt>
              {part.label} {fromWords[part.from] && <span class="tag">{fromWords[part.from]}</span>}
            </dt>
            <dd>
              {[part.text, part.figures].filter(Boolean).join(': ') || 'as on the sheet'}
              {part.check && <span class="part-check">{part.check}</span>}
              {part.id && pick.pick >= 0 && (
                <button type="button" class="quiet" onClick={() => leaveOut(part.place + '/' + part.id)}>
                  Never this {part.label}
                </button>
              )}
            </dd>
          </div>
        ))}
      </dl>
    </details>
  )
}

function Take({ pick, at, state }: { pick: Pick; at: number; state: SearchState }) {
  const name = use((s) => s.build?.name ?? '')
  const [busy, setBusy] = useState(false)
  const take = async () => {
    setBusy(true)
    try {
      const made = await post<State>(`builds/${state.build}/search/take`, { search: state.search, pick: pick.pick, name: `${name}: ${pick.title}`.slice(0, 190) })
      await refreshGarage()
      location.hash = linkTo('b', state.build, 'variants', made.build)
    } catch (error) {
      tell(error)
      setBusy(false)
    }
  }
  return (
    <button class={at === 0 ? 'main' : ''} disabled={busy || state.stale} onClick={() => void take()}>
      Take {letter(at)} as a variant
    </button>
  )
}

export function BesideEachOther({ list }: { list: Pick[] }) {
  const [all, setAll] = useState(true)
  const rows = list[0]?.numbers ?? []
  const texts = (i: number) => list.map((p) => p.numbers[i]?.text ?? '')
  const same = (i: number) => new Set(texts(i)).size < 2
  const parts = [...new Set(list.flatMap((p) => p.parts.map((x) => x.place)))]
  const partOf = (p: Pick, place: string) => {
    const part = p.parts.find((x) => x.place === place)
    return part ? [part.text, part.figures].filter(Boolean).join(': ') : 'none'
  }
  return (
    <section class="pick-beside">
      <h2>Beside each other</h2>
      <label>
        <input type="checkbox" checked={!all} onChange={(e) => setAll(!e.currentTarget.checked)} /> only where they differ
      </label>
      <div class="table-frame" tabIndex={0} role="region" aria-label="bikes beside each other">
        <table class="beside">
          <thead>
            <tr>
              <th scope="col"></th>
              {list.map((p) => (
                <th key={p.pick} scope="col">
                  {p.title}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((r, i) =>
              !all && same(i) ? null : (
                <tr key={r.quantity}>
                  <th scope="row">{r.label}</th>
                  {list.map((p) => (
                    <td key={p.pick}>
                      {p.numbers[i]?.text} {p.numbers[i]?.met === 'short' && <Wish wish="asked" met="short" by="" />}
                    </td>
                  ))}
                </tr>
              ),
            )}
            {parts.map((place) =>
              !all && new Set(list.map((p) => partOf(p, place))).size < 2 ? null : (
                <tr key={place}>
                  <th scope="row">{list.flatMap((p) => p.parts).find((x) => x.place === place)?.label}</th>
                  {list.map((p) => (
                    <td key={p.pick}>{partOf(p, place)}</td>
                  ))}
                </tr>
              ),
            )}
          </tbody>
        </table>
      </div>
    </section>
  )
}

export function GivesWay({ ways, list }: { ways: GiveWay[]; list: Pick[] }) {
  return (
    <section class="gives-way">
      <h2>Nothing meets every wish. The least that would have to give way</h2>
      <ol>
        {ways.map((w, i) => {
          const at = list.findIndex((p) => p.pick === w.pick)
          return (
            <li key={i}>
              {w.steps.map((s, k) => (
                <span key={s.quantity}>
                  {k > 0 && ', and '}
                  {s.label} <b>{s.instead}</b> instead of {s.wished} ({s.by})
                </span>
              ))}
              {at >= 0 && <span class="soft">: bike {letter(at)}</span>}. <span class="soft">It costs {w.numbers.find((n) => n.quantity === 'money')?.text}.</span>
            </li>
          )
        })}
      </ol>
    </section>
  )
}
