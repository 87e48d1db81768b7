// SPDX-License-Identifier: MIT
// The first minute: one question, six entries, then an answer.
import { useEffect, useRef, useState } from 'preact/hooks'
import type { EditChange, NewBuild, Problem } from './api'
import { go, use } from './store'
import { Refusal, start, tell } from './talk'
import { unitOf, whole, written } from './typed'

type Where = NewBuild['where']
const places: { word: Where; label: string; more: string }[] = [
  { word: 'dreaming', label: 'Dreaming', more: 'no bike, no parts' },
  { word: 'parts_in_mind', label: 'Parts in mind', more: 'listings open, nothing paid' },
  { word: 'bike_in_bits', label: 'Bike in bits', more: 'a donor to measure' },
  { word: 'riding', label: 'Riding', more: 'it runs, it should run better' },
]

type Entry = { path: string; ask: string; like: string; imperial: string }
const entries: Entry[] = [
  { path: 'surroundings.coldest', ask: 'The coldest day you ride', like: '0', imperial: '32' },
  { path: 'wishes.hold_speed', ask: 'The speed to hold', like: '90', imperial: '55' },
  { path: 'wishes.ride_distance', ask: 'The longest ride between plugs', like: '60', imperial: '40' },
  { path: 'wishes.fast_share', ask: 'How much of it is fast', like: '50', imperial: '50' },
  { path: 'rider.mass', ask: 'Your weight with gear', like: '88', imperial: '190' },
  { path: 'wishes.budget', ask: 'Money there is, the donor included', like: '7000', imperial: '7000' },
]

export function Start() {
  const garage = use((s) => s.garage)
  const fields = use((s) => s.fields)
  const schema = use((s) => s.schema)
  const [where, setWhere] = useState<Where | ''>('')
  const [texts, setTexts] = useState<Record<string, string>>({})
  const [problems, setProblems] = useState<Record<string, Problem>>({})
  const [busy, setBusy] = useState(false)
  const first = useRef<HTMLInputElement>(null)
  const bike = useRef<HTMLSelectElement>(null)
  useEffect(() => first.current?.focus(), [])

  const put = (path: string, text: string) => setTexts((t) => ({ ...t, [path]: text }))
  const submit = async (event: Event) => {
    event.preventDefault()
    const list: EditChange[] = []
    for (const path of ['donor.bike_class', ...entries.map((e) => e.path)]) {
      const field = fields.get(path)
      const text = texts[path]?.trim() ?? ''
      if (text && field) list.push({ path, text: whole(text, unitOf(field, schema)) })
    }
    setBusy(true)
    try {
      const state = await start({ name: 'My conversion', where: where || 'dreaming', entries: list })
      go('b', state.build)
    } catch (error) {
      if (error instanceof Refusal) {
        const found: Record<string, Problem> = {}
        for (const p of error.problems) found[p.field ?? ''] = p
        setProblems(found)
        const at = error.problems.find((p) => p.field)?.field
        if (at) document.getElementById('start-' + at)?.focus()
      } else tell(error)
    }
    setBusy(false)
  }

  return (
    <form class="start" onSubmit={(e) => void submit(e)}>
      <fieldset class="where">
        <legend>
          <h1>Where are you?</h1>
        </legend>
        <div class="where-in">
        {places.map((p, i) => (
          <label key={p.word} class={where === p.word ? 'on' : ''}>
            <input
              ref={i === 0 ? first : undefined}
              type="radio"
              name="where"
              checked={where === p.word}
              onChange={() => setWhere(p.word)}
              onClick={(e) => {
                setWhere(p.word)
                // A tap or a space, not an arrow key: the next question has the cursor.
                if (e.detail > 0) bike.current?.focus()
              }}
            />
            <b>{p.label}</b>
            <span>{p.more}</span>
          </label>
        ))}
        </div>
      </fieldset>
      <div class="entries">
        <h2>Six entries, then an answer</h2>
        <p class="soft">Leave out what you do not know; it is assumed, and said.</p>
        <div class="entry">
          <label for="start-donor.bike_class">Class of bike</label>
          <select
            id="start-donor.bike_class"
            ref={bike}
            value={texts['donor.bike_class'] ?? ''}
            onChange={(e) => put('donor.bike_class', e.currentTarget.value)}
          >
            <option value="">choose</option>
            {garage?.classes.map((c) => (
              <option key={c.word} value={c.word}>
                {c.label}
              </option>
            ))}
          </select>
        </div>
        {entries.map((e) => (
          <EntryRow
            key={e.path}
            entry={e}
            unit={fields.has(e.path) ? unitOf(fields.get(e.path)!, schema) : ''}
            text={texts[e.path] ?? ''}
            problem={problems[e.path]}
            imperial={garage?.units === 'imperial'}
            put={put}
          />
        ))}
        {problems[''] && <p class="row-problem" role="alert">{problems[''].what}</p>}
        <button class="main" type="submit" disabled={busy}>
          {busy ? 'Working it out' : 'Show me'}
        </button>
      </div>
      <Others />
    </form>
  )
}

type RowProps = { entry: Entry; unit: string; text: string; problem: Problem | undefined; imperial: boolean; put: (p: string, t: string) => void }

function EntryRow({ entry, unit, text, problem, imperial, put }: RowProps) {
  const id = 'start-' + entry.path
  return (
    <div class={'entry' + (problem ? ' row-bad' : '')}>
      <label for={id}>{entry.ask}</label>
      <input
        id={id}
        inputMode="decimal"
        autocomplete="off"
        value={text}
        placeholder={imperial ? entry.imperial : entry.like}
        aria-invalid={problem ? 'true' : undefined}
        aria-describedby={problem ? id + '-bad' : undefined}
        onInput={(e) => put(entry.path, e.currentTarget.value)}
      />
      <span class="row-unit">{written(unit)}</span>
      {problem && (
        <p class="row-problem" id={id + '-bad'}>
          <b>Not taken.</b> {problem.what} {problem.expected ? `Expected: ${problem.expected}.` : ''}
        </p>
      )}
    </div>
  )
}

/// Other ways in: a demo, a sheet from a file, the builds that are there.
function Others() {
  const garage = use((s) => s.garage)
  if (!garage) return null
  const open = async (name: string, title: string) => {
    try {
      const state = await start({ name: title, where: 'riding', demo: name })
      go('b', state.build)
    } catch (error) {
      tell(error)
    }
  }
  return (
    <section class="others">
      <h2>Or look at one that is filled in</h2>
      <ul class="plain">
        {garage.demos.map((d) => (
          <li key={d.name}>
            <button type="button" class="quiet" onClick={() => void open(d.name, d.title)}>
              {d.title}
            </button>
          </li>
        ))}
      </ul>
      <p class="soft">Invented bikes, riders and parts.</p>
      <p><a href="#/hold">Hold two parts together, without a bike</a></p>
      {garage.builds.length > 0 && <p><a href="#/">To the builds in this garage</a></p>}
    </section>
  )
}
