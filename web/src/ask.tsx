// SPDX-License-Identifier: MIT
// Three questions beside a search: why a part is not there, whether a claim can be true, which donor
// carries the pack.
import { useEffect, useState } from 'preact/hooks'
import type { ClaimTerm, DonorRow, SearchState, ShelfPart, WhyNot } from './api'
import { GivesWay } from './picks'
import { use } from './store'
import { ask, post, Refusal, tell } from './talk'
import { many } from './words'

const shelves: [string, string][] = [['motor', 'motor'], ['controller', 'controller'], ['cell', 'cell or module'], ['chain', 'chain']]

export function WhyNotForm({ state }: { state: SearchState }) {
  const [shelf, setShelf] = useState('motor')
  const [part, setPart] = useState('')
  const [parts, setParts] = useState<ShelfPart[]>([])
  const [answer, setAnswer] = useState<WhyNot | null>(null)
  const [busy, setBusy] = useState(false)
  useEffect(() => {
    setPart('')
    setParts([])
    setAnswer(null)
    const stop = new AbortController()
    ask<ShelfPart[]>('shelves/' + shelf, stop.signal).then(setParts).catch(tell)
    return () => stop.abort()
  }, [shelf, state.search])
  const go = async (event: Event) => {
    event.preventDefault()
    if (!part) return
    setBusy(true)
    try {
      setAnswer(await post<WhyNot>(`builds/${state.build}/search/why`, { search: state.search, shelf, part }))
    } catch (error) {
      tell(error)
    }
    setBusy(false)
  }
  return (
    <section class="why-not">
      <h2>Why is something not there?</h2>
      <form class="tools" onSubmit={(e) => void go(e)}>
        <label>
          kind{' '}
          <select value={shelf} onChange={(e) => setShelf(e.currentTarget.value)}>
            {shelves.map(([key, word]) => (
              <option key={key} value={key}>
                {word}
              </option>
            ))}
          </select>
        </label>
        <label>
          which{' '}
          <select value={part} onChange={(e) => setPart(e.currentTarget.value)}>
            <option value="">choose</option>
            {parts.map((p) => (
              <option key={p.id} value={p.id}>
                {p.own ? p.name || p.id : p.facts.slice(0, 4).join('; ') || p.id}
              </option>
            ))}
          </select>
        </label>
        <button disabled={!part || busy}>{busy ? 'Trying it' : 'Why not?'}</button>
      </form>
      {answer && (
        <div class="why-answer" role="status">
          <p>{answer.says}</p>
          {answer.ended_early && <p class="soft">Not every combination with it could be tried in the time there is.</p>}
          {answer.fell.length > 0 && (
            <ul class="fell">
              {answer.fell.map((f) => (
                <li key={f.what}>
                  <b>{many(f.count)}</b> {f.what}
                </li>
              ))}
            </ul>
          )}
          {answer.gives_way.length > 0 && <GivesWay ways={answer.gives_way} list={[]} />}
        </div>
      )}
    </section>
  )
}

export function Claim() {
  const build = use((s) => s.build?.build ?? 0)
  const [text, setText] = useState('')
  const [terms, setTerms] = useState<ClaimTerm[] | null>(null)
  const [problem, setProblem] = useState('')
  const go = async (event: Event) => {
    event.preventDefault()
    setProblem('')
    setTerms(null)
    try {
      setTerms(await post<ClaimTerm[]>(`builds/${build}/claim`, { text }))
    } catch (error) {
      if (error instanceof Refusal) setProblem([error.message, error.problems[0]?.expected].filter(Boolean).join(' Expected: '))
      else tell(error)
    }
  }
  return (
    <section class="aside">
      <h2>Can that be true?</h2>
      <form onSubmit={(e) => void go(e)}>
        <label class="block-label" for="claim">
          What somebody says of a bike like yours
        </label>
        <input id="claim" type="text" class="wide" value={text} placeholder="8 kW, 100 km/h, 150 km on 3 kWh" onInput={(e) => setText(e.currentTarget.value)} />
        <p class="tools">
          <button disabled={!text.trim()}>Take it apart</button>
        </p>
      </form>
      {problem && (
        <p class="row-problem" role="alert">
          {problem}
        </p>
      )}
      {terms && (
        <ul class="claim-terms" role="status">
          {terms.map((t) => (
            <li key={t.says}>
              <b>{t.says}</b>: {t.plausible}. <span class="soft">True of {Math.round(100 * t.share)} in 100 bikes that yours may be.</span>
              <p>For it: {t.would_need}.</p>
              <p>Rather: {t.then_rather}.</p>
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}

export function Donors() {
  const build = use((s) => s.build?.build ?? 0)
  const revision = use((s) => s.build?.revision ?? 0)
  const [rows, setRows] = useState<DonorRow[] | null>(null)
  const [busy, setBusy] = useState(false)
  useEffect(() => setRows(null), [build, revision])
  const go = () => {
    setBusy(true)
    ask<DonorRow[]>(`builds/${build}/donors`)
      .then(setRows)
      .catch(tell)
      .finally(() => setBusy(false))
  }
  return (
    <section class="aside">
      <h2>Which donor carries the pack?</h2>
      <p class="soft">For the distance you wish for, with cells sketched from the library. Room and plate of a class are typical: common practice, no source.</p>
      <p class="tools">
        <button disabled={busy} onClick={go}>
          {busy ? 'Riding them' : 'Go through the classes'}
        </button>
      </p>
      {rows && !rows.length && <p>No distance is wished for yet: give one under Wishes.</p>}
      {rows && rows.length > 0 && (
        <>
          <div class="table-frame" tabIndex={0} role="region" aria-label="donors">
            <table class="numbers donors">
              <thead>
                <tr>
                  {['', 'pack', 'room needed', 'room', 'laden', 'plate', ''].map((h, i) => (
                    <th key={i} scope="col">
                      {h}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {rows.map((r) => (
                  <tr key={r.words} class={r.own ? 'own' : ''}>
                    <th scope="row">{r.words}</th>
                    <td>{r.pack}</td>
                    <td>{r.room_needed}</td>
                    <td>{r.room}</td>
                    <td>{r.laden}</td>
                    <td>{r.plate}</td>
                    <td>{r.says}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          <p class="soft">In a stranger's yard take five with a tape: length, width and height of the bay, the wheelbase, and read the plate. Frame, papers and rust are not in this.</p>
        </>
      )}
    </section>
  )
}
