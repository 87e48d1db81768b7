// SPDX-License-Identifier: MIT
// What the bike will do: every answer with its spread and what moves it, gearing, plots.
import type { Answer } from './api'
import { percented } from './figures'
import { Gearing } from './gearing'
import { Plot } from './plot'
import { StageHead, useOf } from './stage'
import { go, use } from './store'
import { Fig, fromTo, percent, Spread, Wish } from './words'
import { useState } from 'preact/hooks'

export function Road() {
  const state = use((s) => s.build)
  const former = use((s) => s.former)
  const plots = useOf<{ key: string; title: string }[]>('plots')
  const [ghost, setGhost] = useState(true)
  if (!state) return null
  const rides = state.answers.length > 0
  return (
    <>
      <StageHead stage="road" />
      {!rides && <p class="blunt">No ride can be worked out yet. The parts and figures it waits for are listed above.</p>}
      <div class="road">
        <div class="road-left">
          {rides && <Answers answers={state.answers} />}
          {rides && <Gearing plain />}
        </div>
        <div class="road-right">
          {former && (
            <label class="ghost-switch">
              <input type="checkbox" checked={ghost} onChange={(e) => setGhost(e.currentTarget.checked)} />
              draw revision {former.revision} behind it
            </label>
          )}
          {plots?.map((p) => (
            <Plot key={p.key} name={p.key} title={p.title} ghost={ghost && former ? former.revision : 0} />
          ))}
        </div>
      </div>
    </>
  )
}

function Answers({ answers }: { answers: Answer[] }) {
  const [all, setAll] = useState(false)
  const main = answers.filter((a) => a.main)
  const shown = all || !main.length ? answers : main
  return (
    <section>
      <h2>Every answer</h2>
      <ul class="answers">
        {shown.map((a) => (
          <AnswerLine key={a.key} answer={percented(a)} />
        ))}
      </ul>
      {main.length > 0 && main.length < answers.length && (
        <button class="quiet" onClick={() => setAll(!all)}>
          {all ? 'Only the main ones' : `All ${answers.length}`}
        </button>
      )}
    </section>
  )
}

function AnswerLine({ answer: a }: { answer: Answer }) {
  const ready = use((s) => s.build?.ready === 'full')
  const was = use((s) => s.former?.answers.find((x) => x.key === a.key)?.likely)
  const before = was !== undefined && a.key.startsWith('grade') ? percent(was) : was
  const build = use((s) => s.build?.build ?? 0)
  const to = (path: string) => {
    const slot = path.split('.')[0] ?? ''
    go('b', build, 'parts', slot)
  }
  return (
    <li>
      <details>
        <summary>
          <span class="answer-label">{a.label}</span>
          <span class="answer-figure">
            <Fig text={a.likely} />
            {before !== undefined && before !== a.likely && <s class="ghost"><span class="sr">before: </span>{before}</s>}
          </span>
          <span class="answer-foot">
            <Spread low={a.count_on} high={a.good_day} ready={ready} beside={a.likely} />
            <Wish wish={a.wish} met={a.met} by={a.by} less={!a.more_is_better} />
          </span>
        </summary>
        {a.moved_by.length > 0 ? (
          <ul class="moved-by">
            {a.moved_by.map((m) => (
              <li key={m.path}>
                <button class="quiet" onClick={() => to(m.path)}>
                  {m.label}
                </button>{' '}
                <span class="tag">{m.from}</span> {fromTo(m.low, m.high)}, {Math.round(m.share * 100)} % of the spread
              </li>
            ))}
          </ul>
        ) : (
          <p class="soft">{ready ? 'Nothing that is soft moves it.' : 'What moves it is being worked out.'}</p>
        )}
      </details>
    </li>
  )
}
