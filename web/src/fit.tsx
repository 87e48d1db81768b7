// SPDX-License-Identifier: MIT
// Findings: what clashes, what is not known, what is tight, what fits; why, what ignoring it costs,
// and what can be done about it.
import { useState } from 'preact/hooks'
import type { EditChange, Finding, Preview, State, WayOut } from './api'
import { Fields } from './field'
import { Forms, StageHead } from './stage'
import { linkTo, labelOf, use } from './store'
import { ask, edit, post, preview, show, tell } from './talk'
import { degrees, plural, saysWord, Sign, Verdict, when } from './words'

const order = ['clash', 'unmeasured', 'tight', 'fits'] as const

export function Fit() {
  const state = use((s) => s.build)
  const schema = use((s) => s.schema)
  const rest = use((s) => s.route.rest)
  if (!state || !schema) return null
  const picked = pickedOf(state, rest)
  const slots = schema.stages.find((s) => s.key === 'fit')?.slots ?? []
  const forms = schema.slots.filter((s) => slots.includes(s.key) && !s.is_part)
  return (
    <>
      <StageHead stage="fit" />
      {rest.length > 1 && (
        <p class="picked">
          {rest[0] === 'between' ? `Only between ${labelOf(rest[1]!)} and ${labelOf(rest[2] ?? '')}. ` : 'Only what this flag stands for. '}
          <a href={linkTo('b', state.build, 'fit')}>Show all</a>
        </p>
      )}
      <Findings findings={picked} all={rest.length > 1} />
      {rest.length <= 1 && forms.length > 0 && <Forms slots={forms} filter="empty" />}
    </>
  )
}

function pickedOf(state: State, rest: string[]): Finding[] {
  if (rest[0] === 'rules') return state.findings.filter((f) => rest[1]?.split(' ').includes(f.rule))
  if (rest[0] === 'between') {
    return state.findings.filter((f) => rest.slice(1).every((s) => f.between.includes(s)) && f.says !== 'fits')
  }
  return state.findings
}

export function Findings({ findings, all = false }: { findings: Finding[]; all?: boolean }) {
  const [says, setSays] = useState<Finding['says'] | 'all'>(all ? 'all' : firstOf(findings))
  const [count, setCount] = useState(25)
  const shown = findings.filter((f) => says === 'all' || f.says === says)
  return (
    <section class="findings">
      {!all && (
        <div class="choose says" role="radiogroup" aria-label="which findings">
          {order.map((s) => (
            <label key={s} class={says === s ? 'on' : ''}>
              <input type="radio" name="says" checked={says === s} onChange={() => setSays(s)} />
              <Sign says={s} />
              <b>{findings.filter((f) => f.says === s).length}</b> {saysWord[s]}
            </label>
          ))}
        </div>
      )}
      {!shown.length && <p class="soft">None.</p>}
      <ul class="finding-list">
        {shown.slice(0, count).map((f) => (
          <li key={f.rule}>
            <FindingCard finding={f} />
          </li>
        ))}
      </ul>
      {count < shown.length && (
        <button class="quiet" onClick={() => setCount(count + 50)}>
          Show {Math.min(50, shown.length - count)} more of {shown.length}
        </button>
      )}
    </section>
  )
}

const firstOf = (findings: Finding[]): Finding['says'] =>
  order.find((s) => findings.some((f) => f.says === s)) ?? 'fits'

const blockWords: Record<string, string> = {
  buying: 'Before buying',
  energising: 'Before power goes on',
  riding: 'Before riding',
}

export function FindingCard({ finding: f, bare = false }: { finding: Finding; bare?: boolean }) {
  const limit = degrees(f.have && f.limit ? `${f.have}, limit ${f.limit}` : f.have)
  const price = [f.ignoring.cost, f.ignoring.weeks ? plural(f.ignoring.weeks, 'week', 'weeks') : ''].filter(Boolean)
  return (
    <article class={'finding f-' + f.says}>
      <header>
        <Verdict says={f.says} />
        <h3>{f.title}</h3>
      </header>
      {f.because && <p class="because">{degrees(f.because)}</p>}
      {f.missing.length > 0 && !bare && (
        <div class="missing">
          <p class="soft">Waits for:</p>
          <Fields paths={f.missing.map((m) => m.path)} where={f.rule + '-'} />
        </div>
      )}
      <p class="facts">
        {limit && (
          <span>
            {limit}
            {f.half_width ? `, give or take ${f.half_width}` : ''}
          </span>
        )}
        {blockWords[f.blocks] && <span class="tag">{blockWords[f.blocks]}</span>}
        <span>{f.between.map(labelOf).join(' · ')}</span>
      </p>
      {f.says !== 'fits' && f.ignoring.text && (
        <p class="ignoring">
          <b>If ignored:</b> {f.ignoring.text}
          {price.length > 0 && ` Typically costs ${price.join(' and ')}.`}
        </p>
      )}
      {f.ways_out.map((w) => (
        <Way key={w.text} way={w} rule={f.title} />
      ))}
      {!bare && <More finding={f} />}
    </article>
  )
}

function More({ finding: f }: { finding: Finding }) {
  const build = use((s) => s.build?.build ?? 0)
  const [text, setText] = useState('')
  const explain = (open: boolean) => {
    if (!open || text) return
    ask<{ text: string }>(`builds/${build}/explain/${encodeURIComponent(f.rule)}`)
      .then((r) => setText(r.text))
      .catch(tell)
  }
  return (
    <>
      {f.known && (
        <p class="known">
          <b>You said on {when(f.known.when)}:</b> {f.known.why}
          {f.known.still ? '' : ' The numbers have changed since.'}{' '}
          <Said rule={f.rule} why="" label="Take it back" />
        </p>
      )}
      <details class="more" onToggle={(e) => explain(e.currentTarget.open)}>
        <summary>The numbers in it{f.says === 'clash' || f.says === 'tight' || f.says === 'unmeasured' ? '; I know, because …' : ''}</summary>
        {text ? <pre>{text}</pre> : <p class="soft">Coming.</p>}
        {f.weak.length > 0 && (
          <div>
            <p class="soft">Rests on less than a data sheet:</p>
            <Fields paths={f.weak.map((m) => m.path)} where={'weak-' + f.rule + '-'} />
          </div>
        )}
        {f.source && <p class="soft">Source: {f.source}.</p>}
        {!f.known && f.says !== 'fits' && <Because rule={f.rule} />}
      </details>
    </>
  )
}

function Said({ rule, why, label }: { rule: string; why: string; label: string }) {
  const build = use((s) => s.build?.build ?? 0)
  const say = () => {
    post<State>(`builds/${build}/known`, { rule, why }).then(show).catch(tell)
  }
  return (
    <button class="quiet" onClick={say} disabled={label !== 'Take it back' && !why.trim()}>
      {label}
    </button>
  )
}

function Because({ rule }: { rule: string }) {
  const [why, setWhy] = useState('')
  return (
    <div class="because-form">
      <label for={'why-' + rule}>I know, because …</label>
      <input id={'why-' + rule} class="wide" value={why} onInput={(e) => setWhy(e.currentTarget.value)} />
      <Said rule={rule} why={why} label="Put it down" />
    </div>
  )
}

function Way({ way, rule }: { way: WayOut; rule: string }) {
  const [seen, setSeen] = useState<Preview | null>(null)
  const [busy, setBusy] = useState(false)
  const look = async () => {
    setBusy(true)
    try {
      setSeen(await preview(way.changes))
    } catch (error) {
      tell(error)
    }
    setBusy(false)
  }
  return (
    <div class="way">
      <p>
        <span class="cell-label">way out</span> <b>{way.text}</b>
        {way.becomes && <> then it {way.becomes === 'fits' ? 'fits' : 'is ' + way.becomes}</>}
        {way.also.length > 0 && <span class="soft">; {way.also.join('; ')}</span>}
      </p>
      <p class="way-do">
        <button onClick={() => void edit(way.changes, `${way.text} (${rule})`)}>Take it</button>
        <button class="quiet" aria-expanded={!!seen} disabled={busy} onClick={() => (seen ? setSeen(null) : void look())}>
          {seen ? 'Hide what would change' : 'What would change?'}
        </button>
      </p>
      {seen && <Consequences preview={seen} />}
    </div>
  )
}

const shownKeys = ['speed_top', 'time_0_50', 'range_hold_reserve', 'range_mixed_reserve', 'grade_max', 'mass']

/// What a change would do, beside what there is.
export function Consequences({ preview: p, keys = shownKeys }: { preview: Preview; keys?: string[] }) {
  const state = use((s) => s.build)
  if (!state) return null
  const now = new Map(state.answers.map((a) => [a.key, a]))
  const rows = p.answers.filter((a) => keys.includes(a.key) && now.get(a.key)?.likely !== a.likely)
  const money = (four: { key: string; likely: string }[]) => four.find((x) => x.key === 'money')?.likely ?? ''
  const [costs, wouldCost] = [money(state.four), money(p.four)]
  const dearer = costs !== wouldCost
  const clashes = p.counts.clash - state.counts.clash
  return (
    <div class="would">
      {(rows.length > 0 || dearer) && (
        <table>
          <thead>
            <tr>
              <th scope="col">figure</th>
              <th scope="col">now</th>
              <th scope="col">then</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((a) => (
              <tr key={a.key}>
                <th scope="row">{a.label}</th>
                <td>{now.get(a.key)?.likely}</td>
                <td>
                  <b>{a.likely}</b>
                </td>
              </tr>
            ))}
            {dearer && (
              <tr>
                <th scope="row">money in all, likely</th>
                <td>{costs}</td>
                <td>
                  <b>{wouldCost}</b>
                </td>
              </tr>
            )}
          </tbody>
        </table>
      )}
      {rows.length === 0 && !dearer && <p class="soft">None of the figures in the title block moves.</p>}
      {p.findings_changed.length > 0 && (
        <ul class="changed">
          {p.findings_changed.slice(0, 8).map((f) => (
            <li key={f.rule}>
              <Sign says={f.to as Finding['says']} /> {f.title}: {f.from}, then <b>{f.to}</b>
            </li>
          ))}
          {p.findings_changed.length > 8 && <li class="soft">and {p.findings_changed.length - 8} more</li>}
        </ul>
      )}
      <p>
        Clashes: {state.counts.clash}, then <b>{p.counts.clash}</b>
        {clashes < 0 ? ` (${-clashes} fewer)` : clashes > 0 ? ` (${clashes} more)` : ''}
      </p>
    </div>
  )
}

export type { EditChange }
