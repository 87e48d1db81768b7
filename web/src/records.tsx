// SPDX-License-Identifier: MIT
// What was changed and when, what was done at the bike, and two builds beside each other.
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks'
import type { Compare as Compared, Entry, Pairing, Photo, Revision } from './api'
import { cellsOf } from './figures'
import { linkTo, use } from './store'
import { svgFrom } from './svg'
import { ask, post, postPicture, refreshGarage, show, start, step, tell } from './talk'
import type { State } from './api'
import { Fig, saysWord, Sign, when } from './words'

export function History() {
  const state = use((s) => s.build)
  const [list, setList] = useState<Revision[]>([])
  const [end, setEnd] = useState(false)
  const build = state?.build
  useEffect(() => {
    if (!build) return
    const stop = new AbortController()
    ask<Revision[]>(`builds/${build}/history`, stop.signal)
      .then((r) => {
        setList(r)
        setEnd(r.length < 50)
      })
      .catch(tell)
    return () => stop.abort()
  }, [build, state?.revision])
  if (!state) return null
  const more = async () => {
    const last = list[list.length - 1]
    if (!last) return
    try {
      const older = await ask<Revision[]>(`builds/${build}/history?before=${last.id}`)
      setList([...list, ...older])
      setEnd(older.length < 50)
    } catch (error) {
      tell(error)
    }
  }
  return (
    <section class="narrow">
      <h1 class="stage-title">What was changed?</h1>
      <p class="tools">
        <button disabled={!state.can_undo} onClick={() => void step('undo')}>
          Undo the last change
        </button>
        <button disabled={!state.can_redo} onClick={() => void step('redo')}>
          Do it again
        </button>
      </p>
      <ol class="history">
        {list.map((r) => (
          <li key={r.id}>
            <span class="cell-label">revision {r.id}</span> <time>{when(r.when)}</time>
            <b>{r.what}</b>
            {r.changes.length > 0 && (
              <ul>
                {r.changes.slice(0, 12).map((c) => (
                  <li key={c.path}>
                    {c.label}: <s>{c.from || 'not known'}</s>, then {c.to || 'not known'}
                  </li>
                ))}
                {r.changes.length > 12 && <li class="soft">and {r.changes.length - 12} more</li>}
              </ul>
            )}
          </li>
        ))}
      </ol>
      {!end && list.length > 0 && (
        <button class="quiet" onClick={() => void more()}>
          Older ones
        </button>
      )}
    </section>
  )
}

export function Journal() {
  const build = use((s) => s.build?.build ?? 0)
  const [list, setList] = useState<Entry[]>([])
  const [text, setText] = useState('')
  const [hours, setHours] = useState('')
  const [money, setMoney] = useState('')
  const [picture, setPicture] = useState<File | null>(null)
  const chooser = useRef<HTMLInputElement>(null)
  const [photos, setPhotos] = useState<Photo[]>([])
  useEffect(() => {
    if (!build) return
    ask<Entry[]>(`builds/${build}/journal`).then(setList).catch(tell)
    ask<Photo[]>(`builds/${build}/photos`).then(setPhotos).catch(tell)
  }, [build])
  const put = async (event: Event) => {
    event.preventDefault()
    const spent = Number(hours.replace(',', '.'))
    if (!Number.isFinite(spent)) return tell(new Error(`Hours: '${hours}' is no number. Expected: one such as 1.5.`))
    try {
      if (text.trim()) {
        const entry = { text, hours: hours.trim() ? spent : null, money: money.trim() }
        setList(await post<Entry[]>(`builds/${build}/journal`, entry))
        setText('')
        setHours('')
        setMoney('')
      }
      // A picture that is refused stays chosen; its words are in the journal by then.
      if (picture) {
        await postPicture(`builds/${build}/photos?caption=${encodeURIComponent(text)}`, picture)
        setPhotos(await ask<Photo[]>(`builds/${build}/photos`))
        setPicture(null)
        if (chooser.current) chooser.current.value = ''
      }
    } catch (error) {
      tell(error)
    }
  }
  const total = list.reduce((sum, e) => sum + (e.hours ?? 0), 0)
  return (
    <section class="narrow">
      <h1 class="stage-title">What was done?</h1>
      <form class="journal-form" onSubmit={(e) => void put(e)}>
        <label class="block-label" for="journal-text">
          Done, found, learnt
        </label>
        <textarea id="journal-text" rows={4} value={text} onInput={(e) => setText(e.currentTarget.value)} />
        <p class="tools">
          <label>
            hours <input class="short" inputMode="decimal" value={hours} onInput={(e) => setHours(e.currentTarget.value)} />
          </label>
          <label>
            money <input class="short" inputMode="decimal" value={money} onInput={(e) => setMoney(e.currentTarget.value)} />
          </label>
          <label>
            picture{' '}
            <input ref={chooser} type="file" accept="image/jpeg,image/png,image/webp" onChange={(e) => setPicture(e.currentTarget.files?.[0] ?? null)} />
          </label>
          <button class="main" disabled={!text.trim() && !picture}>
            Put it down
          </button>
        </p>
      </form>
      {total > 0 && <p class="soft">{total.toLocaleString()} hours so far.</p>}
      <ol class="history">
        {list.map((e) => (
          <li key={e.id}>
            <time>{when(e.when)}</time>
            {e.hours !== null && <span class="tag">{e.hours} h</span>}
            {e.money && <span class="tag">{e.money}</span>}
            <p class="entry-text">{e.text}</p>
          </li>
        ))}
      </ol>
      {photos.length > 0 && (
        <ul class="photos">
          {photos.map((p) => (
            <li key={p.id}>
              <a href={'/api/photos/' + p.id} target="_blank" rel="noopener">
                <img src={'/api/photos/' + p.id} alt={p.caption || 'photo of ' + when(p.when)} loading="lazy" />
              </a>
              <span class="soft">{when(p.when)}</span>
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}

export function Variants() {
  const state = use((s) => s.build)
  const garage = use((s) => s.garage)
  const rest = use((s) => s.route.rest)
  const [name, setName] = useState('')
  const [both, setBoth] = useState<Compared | null>(null)
  const other = Number(rest[0]) || 0
  const build = state?.build
  useEffect(() => {
    setBoth(null)
    if (!build || !other) return
    const stop = new AbortController()
    ask<Compared>(`builds/${build}/compare/${other}`, stop.signal).then(setBoth).catch(tell)
    return () => stop.abort()
  }, [build, other, state?.revision])
  if (!state || !garage) return null
  const duplicate = async () => {
    try {
      const made = await post<State>(`builds/${state.build}/duplicate`, { name: name.trim() || state.name + ', another way' })
      await refreshGarage()
      location.hash = linkTo('b', state.build, 'variants', made.build)
      setName('')
    } catch (error) {
      tell(error)
    }
  }
  const others = garage.builds.filter((b) => b.id !== state.build && !b.archived)
  return (
    <section>
      <h1 class="stage-title">Which of two ways?</h1>
      <p class="tools">
        <label>
          lay beside{' '}
          <select value={other ? String(other) : ''} onChange={(e) => (location.hash = linkTo('b', state.build, 'variants', e.currentTarget.value))}>
            <option value="">choose</option>
            {others.map((b) => (
              <option key={b.id} value={b.id}>
                {b.name}
              </option>
            ))}
          </select>
        </label>
        <label>
          or make a copy called{' '}
          <input value={name} placeholder={state.name + ', another way'} onInput={(e) => setName(e.currentTarget.value)} />
        </label>
        <button onClick={() => void duplicate()}>Make the copy</button>
      </p>
      {both && <Beside both={both} />}
    </section>
  )
}

const order = ['clash', 'unmeasured', 'tight', 'fits'] as const

function Beside({ both }: { both: Compared }) {
  const { a, b } = both
  const right = new Map(cellsOf(b).map((c) => [c.key, c]))
  return (
    <>
      <div class="table-frame" tabIndex={0} role="region" aria-label="the two builds">
        <table class="beside">
          <thead>
            <tr>
              <th scope="col"></th>
              <th scope="col">
                <a href={linkTo('b', a.build)}>{a.name}</a>
              </th>
              <th scope="col">
                <a href={linkTo('b', b.build)}>{b.name}</a>
              </th>
            </tr>
          </thead>
          <tbody>
            {cellsOf(a).map((c) => (
              <tr key={c.key} class={right.get(c.key)?.likely !== c.likely ? 'moved' : ''}>
                <th scope="row">{c.label}</th>
                <td>
                  <Fig text={c.likely} />
                </td>
                <td>
                  <Fig text={right.get(c.key)?.likely ?? ''} />
                </td>
              </tr>
            ))}
            {order.map((s) => (
              <tr key={s}>
                <th scope="row">
                  <Sign says={s} /> {saysWord[s]}
                </th>
                <td>{a.counts[s]}</td>
                <td>{b.counts[s]}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <h2>Where they differ</h2>
      {!both.differ.length && <p>In nothing.</p>}
      <div class="table-frame" tabIndex={0} role="region" aria-label="differences">
        <table class="beside">
          <tbody>
            {both.differ.map((d) => (
              <tr key={d.path}>
                <th scope="row">{d.label}</th>
                <td>{d.a || 'not known'}</td>
                <td>{d.b || 'not known'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  )
}

export function GaragePage() {
  const garage = use((s) => s.garage)
  const [problem, setProblem] = useState('')
  useEffect(() => void refreshGarage(), [])
  if (!garage) return null
  const take = async (file: File | undefined) => {
    if (!file) return
    setProblem('')
    try {
      const state = await post<State>('import', { name: file.name.replace(/\.toml$/, ''), text: await file.text() })
      show(state)
      location.hash = linkTo('b', state.build)
    } catch (error) {
      setProblem(error instanceof Error ? error.message : String(error))
      tell(error)
    }
  }
  const archive = async (id: number, archived: boolean) => {
    try {
      await post(`builds/${id}/archive`, { archived })
      await refreshGarage()
    } catch (error) {
      tell(error)
    }
  }
  const demo = async (name: string, title: string) => {
    try {
      const state = await start({ name: title, where: 'riding', demo: name })
      location.hash = linkTo('b', state.build)
    } catch (error) {
      tell(error)
    }
  }
  const shelved = garage.builds.filter((b) => b.archived)
  return (
    <section class="narrow garage">
      <h1 class="stage-title">What stands in the garage?</h1>
      {garage.notices.map((n) => (
        <p key={n} class="note">
          {n}
        </p>
      ))}
      <ul class="slot-list">
        {garage.builds.filter((b) => !b.archived).map((b) => (
          <li key={b.id} class="garage-line">
            <a class="slot-line" href={linkTo('b', b.id)}>
              <b>{b.name}</b>
              <span class="soft">changed {when(b.changed)}</span>
            </a>
            <button class="quiet" onClick={() => void archive(b.id, true)} aria-label={'put away ' + b.name}>
              Put away
            </button>
          </li>
        ))}
      </ul>
      <p class="tools">
        <a class="button main" href="#/start">
          Start a new build
        </a>
        <label class="button">
          Bring in a sheet
          <input class="sr" type="file" accept=".toml,text/plain" onChange={(e) => void take(e.currentTarget.files?.[0])} />
        </label>
        <a class="button" href="#/hold">
          Hold two parts together
        </a>
      </p>
      {problem && <p class="row-problem" role="alert">{problem}</p>}
      <h2>Filled in, to look at</h2>
      <p class="tools">
        {garage.demos.map((d) => (
          <button key={d.name} class="quiet" onClick={() => void demo(d.name, d.title)}>
            {d.title}
          </button>
        ))}
      </p>
      {garage.lan && <LetIn />}
      {shelved.length > 0 && (
        <details class="fold">
          <summary>Put away</summary>
          <ul class="plain">
            {shelved.map((b) => (
              <li key={b.id}>
                {b.name}{' '}
                <button class="quiet" onClick={() => void archive(b.id, false)}>
                  Bring it back
                </button>
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  )
}

/// A phone in the same network: a code for two minutes, or the picture for its camera.
function LetIn() {
  const [pairing, setPairing] = useState<Pairing | null>(null)
  const holder = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => {
    const root = pairing?.svg ? svgFrom(pairing.svg) : null
    holder.current?.replaceChildren(...(root ? [root] : []))
  }, [pairing])
  return (
    <section class="note">
      <h2>A phone beside the bike</h2>
      {pairing?.open ? (
        <>
          <p>
            Open {pairing.address} on the phone and type <b class="pair-code">{pairing.code}</b>, or point its camera here. It
            holds for {pairing.seconds} seconds.
          </p>
          <div ref={holder} class="pair-picture" />
          <p class="soft">What goes through the network is not encrypted. At home only.</p>
        </>
      ) : (
        <button onClick={() => post<Pairing>('pairing', {}).then(setPairing).catch(tell)}>Let a phone in</button>
      )}
    </section>
  )
}
