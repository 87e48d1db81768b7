// SPDX-License-Identifier: MIT
// One figure of the sheet as a person fills it in: what it is called, what was typed, what the
// program read, how well it is known, how to measure it. Saved on leaving the field or on Enter.
import { useEffect, useRef, useState } from 'preact/hooks'
import type { Field, Value } from './api'
import { hasPicture, Picture } from './howto'
import { memo } from './memo'
import { draftKey, get, setDraft, use } from './store'
import { edit } from './talk'
import { unitOf, whole, written } from './typed'
import { degrees, sentence } from './words'

function spellings(field: Field): string {
  const kind = get().schema?.units.find((u) => u.kind === field.kind)
  return kind ? kind.spellings.filter(Boolean).join(', ') : ''
}

const modeOf = (field: Field): 'decimal' | 'numeric' | 'text' =>
  field.type === 'count' ? 'numeric' : field.type === 'figure' ? 'decimal' : 'text'

type Save = (text: string, evidence?: string) => void

function Choice({ field, id, text, save }: { field: Field; id: string; text: string; save: Save }) {
  const now = field.options.find((o) => o.word === text || o.label === text)?.word ?? ''
  return (
    <select id={id} value={now} onChange={(e) => save(e.currentTarget.value)}>
      <option value="">not known</option>
      {field.options.map((o) => (
        <option key={o.word} value={o.word}>
          {o.label}
        </option>
      ))}
    </select>
  )
}

function SetOf({ field, id, text, save }: { field: Field; id: string; text: string; save: Save }) {
  const has = new Set(text.split(',').map((w) => w.trim()))
  const toggle = (word: string, on: boolean) => {
    const words = field.options.map((o) => o.word).filter((w) => (w === word ? on : has.has(w)))
    save(words.join(', '))
  }
  return (
    <span class="set" id={id} role="group" aria-label={field.label}>
      {field.options.map((o) => (
        <label key={o.word}>
          <input
            type="checkbox"
            checked={has.has(o.word) || has.has(o.label)}
            onChange={(e) => toggle(o.word, e.currentTarget.checked)}
          />
          {o.label}
        </label>
      ))}
    </span>
  )
}

function Evidence({ path, id, now, choose }: { path: string; id: string; now: string; choose: (word: string) => void }) {
  const words = get().schema?.evidence ?? []
  return (
    <span class="evidence" role="radiogroup" aria-label="how it is known">
      {words.map((e) => (
        <label key={e.word} class={now === e.word || now === e.label ? 'on' : ''}>
          <input
            type="radio"
            name={'ev-' + id + path}
            checked={now === e.word || now === e.label}
            onChange={() => choose(e.word)}
          />
          <span>{e.label}</span>
        </label>
      ))}
    </span>
  )
}

type Props = { field: Field; value: Value | undefined; build: number; where?: string }

/// What stands for a figure that nobody has given yet.
function standIn(value: Value | undefined, field: Field): string {
  if (value?.from === 'assumed') return 'assumed ' + value.shown
  if (value?.from === 'sketched') return 'sketched in: ' + value.shown
  if (value?.from === 'part') return 'from the part: ' + value.shown
  return field.prior ? 'else ' + field.prior : ''
}

export const FieldRow = memo(function FieldRow({ field, value, build, where = '' }: Props) {
  const path = field.path
  const own = value?.from === 'sheet' ? value.text : ''
  const draft = use((s) => s.drafts[draftKey(build, path)])
  const [typed, setTyped] = useState<string | null>(draft?.text ?? null)
  const input = useRef<HTMLInputElement>(null)
  const id = 'f-' + where + path.replace('.', '-')
  const text = typed ?? draft?.text ?? own
  const problem = draft?.problem
  const unit = unitOf(field, get().schema, own)

  useEffect(() => {
    // The program took it, or somebody else changed it: show what stands now.
    if (!draft) setTyped(null)
  }, [draft, own])

  const save: Save = (raw, evidence) => {
    const next = field.type === 'figure' && raw.trim() !== own ? whole(raw, unit) : raw.trim()
    const same = next === own
    if ((same && !evidence) || (next === '' && own === '')) {
      setTyped(null)
      if (draft) setDraft(build, path, null)
      return
    }
    if (problem && draft?.refused === next) return
    const change = { path, text: next, ...(evidence ? { evidence } : {}) }
    setDraft(build, path, { text: next })
    void edit([change], field.label)
  }

  const type = (next: string) => {
    setTyped(next)
    setDraft(build, path, { ...draft, text: next })
  }

  const typing = typed !== null && typed !== own
  const known = own !== '' || text !== ''
  const hint = standIn(value, field)
  const expects = problem?.expected
  return (
    <div
      class={'row' + (problem ? ' row-bad' : '') + (known ? '' : ' row-empty')}
      data-path={path}
      onFocusOut={(e) => {
        // Saved on leaving the row, so that a tap on 'measured' goes with the figure in one change.
        if (typed !== null && !e.currentTarget.contains(e.relatedTarget as Node | null)) save(typed)
      }}
    >
      <label class="row-name" for={id}>
        {field.label}
      </label>
      <div class="row-entry">
        {field.type === 'choice' ? (
          <Choice field={field} id={id} text={text} save={save} />
        ) : field.type === 'set' ? (
          <SetOf field={field} id={id} text={text} save={save} />
        ) : (
          <input
            ref={input}
            id={id}
            type="text"
            class={field.type === 'text' ? 'wide' : ''}
            inputMode={modeOf(field)}
            autocomplete="off"
            spellcheck={false}
            value={text}
            aria-invalid={problem ? 'true' : undefined}
            aria-describedby={problem ? id + '-bad' : id + '-echo'}
            onInput={(e) => type(e.currentTarget.value)}
            onKeyDown={(e) => {
              if (e.key === 'Enter') save(e.currentTarget.value)
              if (e.key === 'Escape') {
                setTyped(null)
                setDraft(build, path, null)
                if (input.current) input.current.value = own
              }
            }}
          />
        )}
        {unit && !own.includes(unit) && <span class="row-unit">{written(unit)}</span>}
        <span class="echo" id={id + '-echo'}>
          {typing ? 'not saved yet' : value?.from === 'sheet' ? (value.shown !== own && field.type === 'figure' ? 'that is ' + degrees(value.shown) : '') : degrees(hint)}
        </span>
      </div>
      {problem && (
        <p class="row-problem" id={id + '-bad'} role="alert">
          <b>Not taken.</b> {sentence(problem.what)}
          {expects ? <> Expected: {expects}.</> : null} {sentence(problem.way_out ?? '')}
        </p>
      )}
      <div class="row-more">
        {field.type === 'figure' && (
          <Evidence
            path={path}
            id={where}
            now={value?.from === 'sheet' ? value.evidence : ''}
            choose={(word) => (text ? save(text, word) : input.current?.focus())}
          />
        )}
        {(field.how || field.low || field.high) && <HowTo field={field} value={value} />}
      </div>
    </div>
  )
})

function HowTo({ field, value }: { field: Field; value: Value | undefined }) {
  const limits = field.low && field.high ? `between ${field.low} and ${field.high}` : ''
  const units = field.type === 'figure' ? spellings(field) : ''
  return (
    <details class="how">
      <summary>{field.how ? 'how to measure' : 'what may be typed'}</summary>
      <div class="how-in">
        {hasPicture(field.path) && <Picture path={field.path} />}
        <div>
          {field.how && <p>{field.how[0]?.toUpperCase() + field.how.slice(1)}.</p>}
          {limits && <p class="soft">Taken {limits}.</p>}
          {units && <p class="soft">Any of: {units}. A spread may follow: 430 mm +- 2 mm.</p>}
          {field.prior && (
            <p class="soft">
              Until then: {field.prior}
              {field.prior_source ? ` (${field.prior_source})` : ''}.
            </p>
          )}
          {value?.note && <p class="soft">Note: {value.note}</p>}
          {value?.date && <p class="soft">From {value.date}.</p>}
        </div>
      </div>
    </details>
  )
}

/// Fields by their paths, as where a finding waits for them.
export function Fields({ paths, where }: { paths: string[]; where: string }) {
  const build = use((s) => s.build)
  const fields = use((s) => s.fields)
  if (!build) return null
  return (
    <div class="rows">
      {paths.map((path) => {
        const field = fields.get(path)
        return field ? (
          <FieldRow key={path} field={field} value={build.values[path]} build={build.build} where={where} />
        ) : null
      })}
    </div>
  )
}
