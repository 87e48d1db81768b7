// SPDX-License-Identifier: MIT
// What is worth buying: what may change and what the bike must do, the search while it runs, the
// trade-offs to be narrowed by hand, the few bikes left, and what stands in the way of others.
import { useEffect, useRef, useState } from 'preact/hooks'
import type { OpenDecision, OpenPlace, Problem, SearchFound, SearchOffer, SearchState } from './api'
import { Claim, Donors, WhyNotForm } from './ask'
import { Limit, textOf } from './limit'
import type { Move, Wished } from './limit'
import { BesideEachOther, GivesWay, ShortList } from './picks'
import { Scatter } from './scatter'
import { StageHead } from './stage'
import { set, use } from './store'
import { ask, post, Refusal, remove, tell } from './talk'
import { Caution, many, plural } from './words'

/// What is asked: kept in this window until it is asked otherwise.
type Form = {
  open: string[]
  without: string[]
  musts: Record<string, Wished>
  weights: Record<string, number>
  own: boolean
  seconds: number
}

const keyOf = (build: number) => 'choose-' + build

function keptForm(build: number): Form | null {
  try {
    return JSON.parse(sessionStorage.getItem(keyOf(build)) ?? 'null') as Form | null
  } catch {
    return null
  }
}

function firstForm(offer: SearchOffer): Form {
  return {
    open: offer.places.filter((p) => p.open).map((p) => p.key),
    without: [],
    musts: Object.fromEntries(offer.yardsticks.map((y) => [y.key, { on: !!y.wish, text: y.wish, at: null }])),
    weights: Object.fromEntries(offer.yardsticks.filter((y) => y.traded).map((y) => [y.key, y.weight])),
    own: true,
    seconds: 60,
  }
}

const mustsOf = (form: Form) =>
  Object.entries(form.musts)
    .filter(([, m]) => m.on && m.text.trim())
    .map(([quantity, m]) => ({ quantity, text: m.text.trim() }))
const wantsOf = (form: Form) => Object.entries(form.weights).map(([quantity, weight]) => ({ quantity, weight }))

export function Choose() {
  const build = use((s) => s.build?.build ?? 0)
  const revision = use((s) => s.build?.revision ?? 0)
  const units = use((s) => s.build?.units ?? '')
  const news = use((s) => s.news)
  const [offer, setOffer] = useState<SearchOffer | null>(null)
  const [state, setState] = useState<SearchState | null>(null)
  const [moved, setMoved] = useState<SearchFound | null>(null)
  const [form, setForm] = useState<Form | null>(null)
  const [problems, setProblems] = useState<Problem[]>([])
  const [beside, setBeside] = useState<number[]>([])
  const out = useRef<HTMLDivElement>(null)
  const narrow = useRef<{ timer: number | undefined; stop: AbortController | undefined }>({ timer: undefined, stop: undefined })

  useEffect(() => {
    if (!build) return
    const stop = new AbortController()
    Promise.all([ask<SearchOffer>(`builds/${build}/search/offer`, stop.signal), ask<SearchState>(`builds/${build}/search`, stop.signal)])
      .then(([o, s]) => {
        setOffer(o)
        setState(s)
        setForm((now) => now ?? keptForm(build) ?? firstForm(o))
      })
      .catch(tell)
    return () => stop.abort()
  }, [build, revision, units])

  // More is there to see: the numbers come with the event, the bikes are fetched.
  const fresh = news && news.build === build ? `${news.search}.${news.answers}.${news.phase}` : ''
  useEffect(() => {
    if (!fresh || !build) return
    const stop = new AbortController()
    ask<SearchState>(`builds/${build}/search`, stop.signal)
      .then((s) => {
        setState(s)
        if (s.phase === 'done') setMoved(null)
      })
      .catch(tell)
    return () => stop.abort()
  }, [fresh, build])

  const failed = (error: unknown, musts: { quantity: string }[]) => {
    if (!(error instanceof Refusal)) return tell(error)
    setProblems(
      error.problems.map((p) => {
        const at = /^musts\[(\d+)\]/.exec(p.field ?? '')
        return at ? { ...p, field: musts[Number(at[1])]?.quantity ?? '' } : p
      }),
    )
  }
  const narrowed = async (to: Form) => {
    if (!state) return
    narrow.current.stop?.abort()
    const stop = new AbortController()
    narrow.current.stop = stop
    const musts = mustsOf(to)
    try {
      const found = await post<SearchFound>(`builds/${build}/search/moved`, { search: state.search, musts, wants: wantsOf(to) }, stop.signal)
      setProblems([])
      setMoved(found)
      setForm((now) => now && withBounds(now, found))
      set({ said: `${many(found.within)} within your wishes` })
    } catch (error) {
      failed(error, musts)
    }
  }
  // What was typed meanwhile, or before a reload, holds for what was found.
  const searched = state?.phase === 'done' && state.points.length && form ? state.search : 0
  useEffect(() => {
    if (searched && form) void narrowed(form)
  }, [searched])

  if (!offer || !form || !state) return <p class="wait" role="status">The shelves are being looked through.</p>

  const change = (next: Form, narrows = false) => {
    setForm(next)
    try {
      sessionStorage.setItem(keyOf(build), JSON.stringify(next))
    } catch {
      // A full or forbidden store: it then lives in memory alone.
    }
    if (!narrows || state.phase !== 'done' || !state.points.length) return
    window.clearTimeout(narrow.current.timer)
    narrow.current.timer = window.setTimeout(() => void narrowed(next), 90)
  }
  const search = async (next: Form = form) => {
    const musts = mustsOf(next)
    setProblems([])
    try {
      const begun = await post<SearchState>(`builds/${build}/search`, {
        base: revision,
        open: next.open,
        without: next.without,
        musts,
        wants: wantsOf(next),
        own_first: next.own,
        seconds: next.seconds,
      })
      setMoved(null)
      setBeside([])
      setState(begun)
      setForm((now) => now && withBounds(now, begun.found))
      // On a phone what comes of it lies far below the asking.
      if (window.innerWidth <= 900) out.current?.scrollIntoView()
    } catch (error) {
      failed(error, musts)
    }
  }
  const end = () => remove<SearchState>(`builds/${build}/search`).then(setState).catch(tell)
  const leaveOut = (part: string) => change({ ...form, without: [...new Set([...form.without, part])] })

  const running = state.phase === 'waiting' || state.phase === 'riding' || state.phase === 'weighing'
  const live = running && news && news.search === state.search ? news : null
  const found = moved ?? state.found
  const counts = live ? live.counts : { ...state.counts, ...(state.phase === 'done' ? { within: found.within, worth: found.worth } : {}) }
  const asked = state.phase === 'done' && differs(form, state)
  const bounds = new Map(offer.yardsticks.map((y) => [y.key, form.musts[y.key]?.on ? form.musts[y.key]!.at : null] as const))
  const move = (to: [string, number][]) => {
    const musts = { ...form.musts }
    for (const [key, at] of to) {
      const y = offer.yardsticks.find((x) => x.key === key)
      if (y) musts[key] = { on: true, text: textOf(y, at), at }
    }
    change({ ...form, musts }, true)
  }
  return (
    <div class="choose-stage">
      <StageHead stage="choose" />
      <div class="choose-desk">
        <form
          class="choose-ask"
          aria-label="what is asked"
          onSubmit={(e) => {
            e.preventDefault()
            void search()
          }}
        >
          <Places offer={offer} form={form} change={change} />
          <Wishes offer={offer} state={state} form={form} change={change} problems={problems} move={move} />
          <fieldset class="choose-go">
            <legend class="sr">the search</legend>
            {offer.places.some((p) => p.own > 0) && (
              <label>
                <input type="checkbox" checked={form.own} onChange={(e) => change({ ...form, own: e.currentTarget.checked })} /> my own parts first, the
                library only where they do not do it
              </label>
            )}
            {form.without.length > 0 && (
              <p class="left-out">
                Never:{' '}
                {form.without.map((w) => (
                  <button type="button" key={w} class="quiet" onClick={() => change({ ...form, without: form.without.filter((x) => x !== w) })}>
                    {w.replace('/', ' ')}, let it in again
                  </button>
                ))}
              </p>
            )}
            {problems.filter((p) => !p.field || !offer.yardsticks.some((y) => y.key === p.field)).map((p) => (
              <p key={p.what} class="row-problem" role="alert">
                {[p.field, p.what].filter(Boolean).join(' ')}. {p.way_out ?? ''}
              </p>
            ))}
            <p class="tools">
              <button class="main">{running ? 'Begin anew' : state.phase === 'done' ? 'Search again' : 'Search'}</button>
              <label>
                at most{' '}
                <select value={String(form.seconds)} onChange={(e) => change({ ...form, seconds: Number(e.currentTarget.value) })}>
                  {[10, 60, 300, 1800].map((s) => (
                    <option key={s} value={s}>
                      {s < 60 ? s + ' s' : s / 60 + ' min'}
                    </option>
                  ))}
                </select>
              </label>
            </p>
          </fieldset>
        </form>
        <div class="choose-found" ref={out}>
          {state.phase === 'none' ? (
            <Before />
          ) : (
            <>
              <Ladder counts={counts} running={running} share={live?.share ?? state.share} seconds={live?.seconds ?? state.seconds} limit={state.limit} phase={live?.phase ?? state.phase} end={end} />
              <Notes state={state} found={found} asked={asked} running={running} again={() => void search()} />
              {state.points.length > 1 && (
                <Scatter yardsticks={offer.yardsticks} points={state.points} spans={state.spans} bounds={bounds} list={found.list} move={move} />
              )}
              {found.gives_way.length > 0 && <GivesWay ways={found.gives_way} list={found.list} />}
              <ShortList list={found.list} running={running} loose={found.gives_way.length > 0} state={state} beside={beside} setBeside={setBeside} leaveOut={leaveOut} />
              {beside.length > 1 && <BesideEachOther list={found.list.filter((p) => beside.includes(p.pick))} />}
              {found.decisions.length > 0 && <Decisions list={found.decisions} />}
              {found.measuring_all && <Measuring found={found} />}
              {state.phase === 'done' && <WhyNotForm state={state} />}
              {state.fell.length > 0 && <FellList state={state} />}
            </>
          )}
          <div class="two asides">
            <Claim />
            <Donors />
          </div>
        </div>
      </div>
    </div>
  )
}

/// The numbers of typed limits, as the program understood them.
function withBounds(form: Form, found: SearchFound): Form {
  const musts = { ...form.musts }
  found.musts.forEach((m, i) => {
    const was = musts[m.quantity]
    const at = found.bounds[i]
    if (was?.on && typeof at === 'number' && was.at === null) musts[m.quantity] = { ...was, at }
  })
  return { ...form, musts }
}

/// Whether places or parts are asked otherwise than the search was: that cannot be narrowed.
function differs(form: Form, state: SearchState): boolean {
  return [...form.open].sort().join() !== [...state.open].sort().join() || form.without.join() !== state.without.join() || form.own !== state.own_first
}

function Before() {
  return (
    <div class="note choose-before">
      <h2>From open parts to a few bikes</h2>
      <p>
        Every combination of what may change is held against every rule, and what fits is ridden. What comes out is not a product to order: the
        parts of the library are sketches, figures to shop for.
      </p>
      <p>Say what may change and what it must do, then search. You can move the wishes afterwards and see at once what is left.</p>
    </div>
  )
}

const wholeParts = ['motor', 'controller', 'cell', 'chain']
const placeWords: Record<OpenPlace['state'], string> = { none: '', thought_of: 'thought of', ordered: 'ordered', here: 'you have it' }

function Places({ offer, form, change }: { offer: SearchOffer; form: Form; change: (f: Form) => void }) {
  const flip = (key: string, on: boolean) => change({ ...form, open: on ? [...form.open, key] : form.open.filter((k) => k !== key) })
  return (
    <fieldset class="places">
      <legend>
        <h2>What may change?</h2>
      </legend>
      {offer.places.map((p) => {
        const open = form.open.includes(p.key)
        return (
          <label key={p.key} class={'place' + (open ? ' on' : '')}>
            <input type="checkbox" checked={open} disabled={!p.options} onChange={(e) => flip(p.key, e.currentTarget.checked)} />
            <span class="place-name">{p.label}</span>
            <span class="place-now">
              {p.now || 'nothing yet'}
              {p.now && placeWords[p.state] && wholeParts.includes(p.key) && <span class="tag">{placeWords[p.state]}</span>}
            </span>
            <span class="place-has">
              {open ? `${p.options} to try${p.own ? `, ${p.own} your own` : ''}` : p.now ? 'stays' : 'stays empty'}
            </span>
          </label>
        )
      })}
    </fieldset>
  )
}

const weights: [number, string][] = [[0, 'no matter'], [0.5, 'a little'], [1, 'once'], [2, 'twice'], [3, 'three times'], [5, 'five times']]

function Wishes(p: {
  offer: SearchOffer
  state: SearchState
  form: Form
  change: (f: Form, narrows: boolean) => void
  problems: Problem[]
  move: Move
}) {
  const { offer, form, change } = p
  const must = (key: string, to: Partial<Wished>) => {
    const was = form.musts[key] ?? { on: false, text: '', at: null }
    change({ ...form, musts: { ...form.musts, [key]: { ...was, ...to } } }, true)
  }
  return (
    <fieldset class="musts">
      <legend>
        <h2>What must it do, and what counts?</h2>
      </legend>
      {offer.yardsticks.map((y) => {
        const m = form.musts[y.key] ?? { on: false, text: '', at: null }
        const span = p.state.spans.find((s) => s.quantity === y.key)
        const problem = p.problems.find((x) => x.field === y.key)
        const id = 'must-' + y.key
        return (
          <div key={y.key} class={'must' + (m.on ? ' on' : '') + (problem ? ' row-bad' : '')}>
            <label class="must-on">
              <input type="checkbox" checked={m.on} onChange={(e) => must(y.key, { on: e.currentTarget.checked })} />
              <span>{y.label}</span>
            </label>
            <span class="must-bound">
              <label for={id}>{y.more_is_better ? 'at least' : 'at most'}</label>
              <input
                id={id}
                type="text"
                aria-label={`${y.label}, ${y.more_is_better ? 'at least' : 'at most'}`}
                inputMode="decimal"
                value={m.text}
                placeholder={y.unit}
                aria-invalid={problem ? 'true' : undefined}
                onInput={(e) => {
                  const text = e.currentTarget.value
                  must(y.key, { text, on: !!text.trim(), at: null })
                }}
                onBlur={(e) => {
                  const text = e.currentTarget.value.trim()
                  if (y.unit && y.key !== 'money' && /^[\d.,\s]+$/.test(text) && text) must(y.key, { text: text + ' ' + y.unit })
                }}
              />
            </span>
            {y.traded && (
              <label class="must-weight">
                <span class="sr">{y.label} </span>counts{' '}
                <select
                  value={String(form.weights[y.key] ?? 0)}
                  onChange={(e) => change({ ...form, weights: { ...form.weights, [y.key]: Number(e.currentTarget.value) } }, true)}
                >
                  {weights.map(([w, word]) => (
                    <option key={w} value={String(w)}>
                      {word}
                    </option>
                  ))}
                </select>
              </label>
            )}
            {problem && (
              <p class="row-problem" role="alert">
                {problem.what}
                {problem.expected ? '. Expected: ' + problem.expected : ''}
              </p>
            )}
            {span && span.high > span.low && <Limit y={y} low={span.low} high={span.high} wished={m} move={p.move} />}
          </div>
        )
      })}
    </fieldset>
  )
}

// While it runs --------------------------------------------------------------------------------

const phaseWords: Record<SearchState['phase'], string> = {
  none: '',
  waiting: 'Another search runs; this one is next.',
  riding: 'Combining and riding.',
  weighing: 'Weighing what was found.',
  done: '',
}

function Ladder(p: { counts: SearchState['counts']; running: boolean; share: number; seconds: number; limit: number; phase: SearchState['phase']; end: () => void }) {
  const c = p.counts
  const steps: [string, number][] = [
    ['combinations considered', c.considered],
    ['fit together', c.fit],
    ['different bikes ridden', c.ridden],
    ['within your wishes', c.within],
    ...(p.running ? [] : [['worth choosing between', c.worth] as [string, number]]),
  ]
  return (
    <section class="ladder" aria-label="how far it is">
      <dl class="rungs">
        {steps.map(([label, n]) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{many(n)}</dd>
          </div>
        ))}
      </dl>
      {p.running && (
        <p class="tools">
          <progress max={1} value={p.share} aria-label="of the search" />
          <span>
            {phaseWords[p.phase]} {p.seconds.toFixed(0)} s of at most {p.limit} s.
          </span>
          <button onClick={p.end}>End it, keep what is there</button>
        </p>
      )}
    </section>
  )
}

const endWords: Record<SearchState['ended'], string> = {
  '': '',
  stopped: '',
  time: '',
  full: '',
  failed: 'The search broke off: a mistake of ours. Search again, with fewer places open.',
}

function Notes({ state, found, asked, running, again }: { state: SearchState; found: SearchFound; asked: boolean; running: boolean; again: () => void }) {
  const lines = [
    state.pass,
    endWords[state.ended],
    state.stale ? 'The build has changed since this search; it speaks of the sheet as it was.' : '',
    asked ? 'Other places may change now than when this was searched.' : '',
    running ? '' : found.lack,
    running && found.list.length ? 'So far; the order may still change.' : '',
  ].filter(Boolean)
  const empty = state.phase === 'done' && !found.list.length && !found.gives_way.length
  return (
    <div class="choose-notes" role="status">
      {lines.map((l) => (
        <p key={l}>{l}</p>
      ))}
      {empty && state.ended && <p>Nothing was found in the time there was. Give it longer, or leave fewer places open.</p>}
      {empty && !state.ended && !found.lack && <p>Nothing that fits could be ridden. What stood in the way is listed below; leave another place open, or change what it is compared with.</p>}
      {!running && (state.stale || asked || (found.lack && found.list.length > 0 && !found.gives_way.length)) && <button onClick={again}>Search again with these</button>}
    </div>
  )
}

// What it says beside the bikes ----------------------------------------------------------------

function Decisions({ list }: { list: OpenDecision[] }) {
  return (
    <section class="decisions">
      <h2>What to think about, and where to guess</h2>
      <ul>
        {list.map((d) => (
          <li key={d.place} class={'says-' + d.says}>
            <h3>
              <span class="tag">{d.says}</span> {d.label}
            </h3>
            <p>{d.text}</p>
            <details class="more">
              <summary>
                {plural(d.fit, 'choice fits', 'choices fit')}: the best, the next, the worst
              </summary>
              <ul>
                {d.options.map((o) => (
                  <li key={o.option}>
                    {o.option}: <span class="soft">{o.differs}</span>
                  </li>
                ))}
              </ul>
            </details>
          </li>
        ))}
      </ul>
    </section>
  )
}

function Measuring({ found }: { found: SearchFound }) {
  return (
    <section class="measuring">
      <h2>What to measure before deciding</h2>
      {found.measuring.length === 0 && <p>No single figure: none changes what to choose by more than luck would show.</p>}
      <ul>
        {found.measuring.map((m) => (
          <li key={m.path + m.what}>
            <h3>
              {m.what} <span class="tag">some {m.worth}</span>
            </h3>
            <p>{m.how}.</p>
            <details class="more">
              <summary>What it decides between</summary>
              <p>{m.between}.</p>
            </details>
          </li>
        ))}
      </ul>
      <p class="soft">{found.measuring_all}</p>
    </section>
  )
}

function FellList({ state }: { state: SearchState }) {
  return (
    <details class="fold">
      <summary>Why the others fell out, by the first thing in the way</summary>
      <ul class="fell">
        {state.fell.map((f) => (
          <li key={f.of + f.what}>
            <b>{many(f.count)}</b>{' '}
            {f.of === 'wish' ? 'your wish: ' : f.of === 'last' ? 'after a full ride: ' : ''}
            {f.what}
          </li>
        ))}
      </ul>
      <Caution>{state.caution}</Caution>
    </details>
  )
}
