// SPDX-License-Identifier: MIT
// Teeth as a thing to play with: every turn asks the program what would be; nothing is written
// until it is kept.
import { useEffect, useRef, useState } from 'preact/hooks'
import type { Answer, Preview } from './api'
import { linkTo, use } from './store'
import { edit, preview, tell } from './talk'
import { Fig, percent, Sign } from './words'
import type { Says } from './words'

const shown: [string, string][] = [
  ['thrust_standstill', 'thrust from standstill'],
  ['thrust_lift', 'thrust that lifts the front wheel'],
  ['time_0_50', '0 to 50 km/h'],
  ['time_0_60mph', '0 to 60 mph'],
  ['speed_top', 'top speed'],
  ['grade_max', 'steepest hill'],
  ['range_hold_reserve', 'range at your speed'],
]

type Line = { key: string; label: string; text: string }

/// The lines of the table: answers, then what the teeth decide besides.
function linesOf(from: { answers: Answer[]; gearing: Line[] }, imperial: boolean): Line[] {
  const other = imperial ? 'time_0_50' : 'time_0_60mph'
  const answers = new Map(from.answers.map((a) => [a.key, a.likely]))
  const first = shown.filter(([key]) => key !== other).flatMap(([key, label]) => {
    const text = answers.get(key)
    return text === undefined ? [] : [{ key, label, text: key.startsWith('grade') ? percent(text) : text }]
  })
  return [...first, ...from.gearing]
}

/// Asks again only when the last answer is in: the newest wish waits, older ones are dropped.
function useLatest(): (teeth: Teeth | null, done: (p: Preview) => void) => void {
  const busy = useRef(false)
  const next = useRef<Teeth | null>(null)
  const run = async (done: (p: Preview) => void) => {
    busy.current = true
    while (next.current) {
      const teeth = next.current
      next.current = null
      try {
        const answer = await preview(changesOf(teeth))
        if (!next.current) done(answer)
      } catch (error) {
        tell(error)
      }
    }
    busy.current = false
  }
  return (teeth, done) => {
    next.current = teeth
    if (teeth && !busy.current) void run(done)
  }
}

type Teeth = { front: number; rear: number }
const changesOf = (t: Teeth) => [
  { path: 'gearing.front_teeth', text: String(t.front) },
  { path: 'gearing.rear_teeth', text: String(t.rear) },
]

export function Gearing({ plain = false }: { plain?: boolean }) {
  const state = use((s) => s.build)
  const front = Number(state?.values['gearing.front_teeth']?.text) || 0
  const rear = Number(state?.values['gearing.rear_teeth']?.text) || 0
  const [teeth, setTeeth] = useState<Teeth>({ front: front || 14, rear: rear || 44 })
  const [would, setWould] = useState<Preview | null>(null)
  const latest = useLatest()
  useEffect(() => {
    if (front && rear) setTeeth({ front, rear })
    setWould(null)
  }, [front, rear, state?.revision])
  if (!state) return null
  const turn = (next: Teeth) => {
    setTeeth(next)
    if (next.front === front && next.rear === rear) {
      latest(null, setWould)
      setWould(null)
    } else latest(next, setWould)
  }
  const moved = teeth.front !== front || teeth.rear !== rear
  const imperial = state.units === 'imperial'
  const now = linesOf(state, imperial)
  const then = new Map(moved && would ? linesOf(would, imperial).map((l) => [l.key, l.text]) : [])
  return (
    <section class="gearing" aria-label="gearing">
      {!plain && (
        <p class="back">
          <a href={linkTo('b', state.build, 'parts')}>All parts</a>
        </p>
      )}
      {plain ? <h2>Gearing to play with</h2> : <h1 class="stage-title">How many teeth?</h1>}
      <div class="teeth">
        <TeethRow name="front" label="front teeth" low={9} high={30} at={teeth.front} turn={(n) => turn({ ...teeth, front: n })} />
        <TeethRow name="rear" label="rear teeth" low={28} high={90} at={teeth.rear} turn={(n) => turn({ ...teeth, rear: n })} />
        <p class="ratio">
          ratio <Fig text={(teeth.rear / teeth.front).toFixed(2)} />
          {moved && front > 0 && <s class="ghost">{(rear / front).toFixed(2)}</s>}
        </p>
      </div>
      <table class="gear-table">
        <thead>
          <tr>
            <th scope="col">figure</th>
            <th scope="col">{moved ? 'would be' : 'is'}</th>
            <th scope="col">{moved ? 'is now' : ''}</th>
          </tr>
        </thead>
        <tbody>
          {now.map((l) => (
            <GearLine key={l.key} label={l.label} now={l.text} then={then.get(l.key)} />
          ))}
        </tbody>
      </table>
      <div class="gear-findings" aria-live="polite">
        {would?.findings_changed.slice(0, 6).map((f) => (
          <p key={f.rule}>
            <Sign says={f.to as Says} /> {f.title}: {f.from}, then <b>{f.to}</b>
          </p>
        ))}
      </div>
      <p class="tools">
        <button class="main" disabled={!moved} onClick={() => void edit(changesOf(teeth), `gearing ${teeth.front} to ${teeth.rear}`)}>
          Keep it
        </button>
        <button class="quiet" disabled={!moved || !front} onClick={() => turn({ front, rear })}>
          Back to {front || 'what is'}{front ? ' to ' + rear : ''}
        </button>
      </p>
    </section>
  )
}

function GearLine({ label, now, then }: { label: string; now: string; then: string | undefined }) {
  const moved = then !== undefined && then !== now
  return (
    <tr class={moved ? 'moved' : ''}>
      <th scope="row">{label}</th>
      <td>
        <Fig text={then ?? now} />
      </td>
      <td class="ghost-cell">{moved ? now : ''}</td>
    </tr>
  )
}

type RowProps = { name: string; label: string; low: number; high: number; at: number; turn: (n: number) => void }

function TeethRow({ name, label, low, high, at, turn }: RowProps) {
  const id = 'teeth-' + name
  const to = (n: number) => turn(Math.max(low, Math.min(high, n)))
  return (
    <div class="teeth-row">
      <label for={id}>{label}</label>
      <button class="stepper" aria-label={'one tooth fewer, ' + name} onClick={() => to(at - 1)}>
        −
      </button>
      <output class="teeth-count">{at}</output>
      <button class="stepper" aria-label={'one tooth more, ' + name} onClick={() => to(at + 1)}>
        +
      </button>
      <input id={id} type="range" min={low} max={high} value={at} onInput={(e) => to(Number(e.currentTarget.value))} />
    </div>
  )
}
