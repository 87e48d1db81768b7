// SPDX-License-Identifier: MIT
// The build book: everything on paper. What is printed is what stands here.
import type { Field, PartsList } from './api'
import { Drawing } from './drawing'
import { cellsOf, Four } from './figures'
import { Whole } from './list'
import { useOf } from './stage'
import { labelOf, use } from './store'
import { afterCaution, allCautions, Caution, Fig, Spread, Verdict, when, Wish } from './words'

/// A choice as people say it, any other figure as it was typed.
const saidAs = (field: Field, text: string): string =>
  field.options.find((o) => o.word === text)?.label ?? text

export function Book() {
  const state = use((s) => s.build)
  const schema = use((s) => s.schema)
  const list = useOf<PartsList>('list')
  if (!state || !schema) return null
  const slots = schema.slots.filter((s) => state.slots_present.includes(s.key))
  const open = state.findings.filter((f) => f.says !== 'fits')
  return (
    <article class="book">
      <p class="tools no-print">
        <button class="main" onClick={() => window.print()}>
          Print it
        </button>
        <span class="soft">or save it as PDF from the print window</span>
      </p>
      <header class="book-head">
        <h1>{state.name}</h1>
        <p>
          Build book, revision {state.revision}, {when(state.saved_at)}
        </p>
      </header>
      <Four />
      {state.blunt && <p class="blunt">{state.blunt}</p>}
      <Drawing view="side" lines={false} />
      <Drawing view="top" lines={false} />
      <section>
        <h2>What it will do</h2>
        <table class="list">
          <tbody>
            {cellsOf(state).map((c) => (
              <tr key={c.key}>
                <th scope="row">{c.label}</th>
                <td>
                  <Fig text={c.likely} />
                </td>
                <td>
                  <Spread low={c.count_on} high={c.good_day} ready beside={c.likely} />
                </td>
                <td>
                  <Wish wish={c.wish} met={c.met} by={c.by} less={c.less} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <section>
        <h2>Before you go on</h2>
        {state.caution && <Caution>{afterCaution(state.caution)}</Caution>}
        {slots.filter((s) => allCautions[s.key]).map((s) => (
          <p key={s.key}>
            <b>{s.label}.</b> {allCautions[s.key]}
          </p>
        ))}
        <p>
          Checked: what the figures below can decide. Not checked: welds, crimps, torque, how anything was put together,
          what the law asks where you ride. Nothing here replaces a part's own data sheet or a competent person's look.
        </p>
      </section>
      <section>
        <h2>What does not fit, is tight or is not known</h2>
        {!open.length && <p>Nothing.</p>}
        {open.map((f) => (
          <div class="book-finding" key={f.rule}>
            <Verdict says={f.says} /> <b>{f.title}.</b> {f.because}{' '}
            {f.missing.length > 0 && f.says !== 'unmeasured' && <>Waits for: {f.missing.map((m) => labelOf(m.path)).join(', ')}.</>}
            {f.known && <em> Known, because {f.known.why}</em>}
          </div>
        ))}
      </section>
      <section>
        <h2>Every figure, and how it is known</h2>
        {slots.map((slot) => {
          const fields = slot.fields.filter((f) => state.values[f.path]?.from === 'sheet')
          if (!fields.length) return null
          return (
            <div key={slot.key} class="book-slot">
              <h3>{slot.label}</h3>
              <table class="list">
                <tbody>
                  {fields.map((f) => (
                    <tr key={f.path}>
                      <th scope="row">{f.label}</th>
                      <td>{saidAs(f, state.values[f.path]!.text)}</td>
                      <td>{f.type === 'text' ? '' : state.values[f.path]!.evidence}</td>
                      <td class="soft">{state.values[f.path]!.note}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </div>
          )
        })}
      </section>
      {list && (
        <section>
          <h2>Parts list</h2>
          <Whole list={list} print />
        </section>
      )}
    </article>
  )
}
