// SPDX-License-Identifier: MIT
// A listing, pasted as text, becomes the builder's own part: what was found in it stands beside the
// words it came from; what is missing becomes a message to the seller.
import { useEffect, useRef, useState } from 'preact/hooks'
import type { Correction, OwnPart, Paste as Pasted, PasteFigure, ShelfPart } from './api'
import { fieldOf, get, go, linkTo, use } from './store'
import { ask, edit, post, Refusal, tell } from './talk'
import { unitOf, whole } from './typed'
import { Verdict } from './words'

type Mark = { begin: number; end: number; kind: string; n: string }

/// The listing's own words with what was read in them marked.
function Marked({ text, marks }: { text: string; marks: Mark[] }) {
  const sorted = [...marks].filter((m) => m.end > m.begin).sort((a, b) => a.begin - b.begin)
  const pieces = []
  let at = 0
  for (const m of sorted) {
    if (m.begin < at) continue
    pieces.push(text.slice(at, m.begin))
    pieces.push(
      <mark key={m.begin} class={'m-' + m.kind}>
        {text.slice(m.begin, m.end)}
        <sup>{m.n}</sup>
      </mark>,
    )
    at = m.end
  }
  pieces.push(text.slice(at))
  return <pre class="listing">{pieces}</pre>
}

const sureWords = { sure: 'sure', likely: 'likely', ask: 'ask the seller' }

export function Paste({ slot }: { slot: string }) {
  const build = use((s) => s.build?.build ?? 0)
  const schema = use((s) => s.schema)
  const [text, setText] = useState('')
  const [kind, setKind] = useState(slot ? (schema?.slots.find((s) => s.key === slot)?.shelf ?? '') : '')
  const [pasted, setPasted] = useState<Pasted | null>(null)
  const [fixes, setFixes] = useState<Correction[]>([])
  const [problem, setProblem] = useState('')
  const [busy, setBusy] = useState(false)
  const area = useRef<HTMLTextAreaElement>(null)
  useEffect(() => area.current?.focus(), [])
  const read = async (as: string, corrections: Correction[]) => {
    if (!text.trim()) return
    setBusy(true)
    setProblem('')
    try {
      setPasted(await post<Pasted>('paste', { text, kind: as, corrections }))
      setFixes(corrections)
    } catch (error) {
      if (error instanceof Refusal) setProblem(error.message)
      else tell(error)
    }
    setBusy(false)
  }
  const fix = (correction: Correction) =>
    void read(kind, [...fixes.filter((f) => f.key !== correction.key), correction])
  const shelves = new Map((schema?.slots ?? []).filter((s) => s.shelf).map((s) => [s.shelf, s.label]))
  return (
    <section>
      <p class="back">
        <a href={linkTo('b', build, 'parts')}>All parts</a>
      </p>
      <h1 class="stage-title">What does the listing say?</h1>
      <label class="block-label" for="listing">
        The listing's text, all of it
      </label>
      <textarea id="listing" ref={area} rows={pasted ? 4 : 12} value={text} onInput={(e) => setText(e.currentTarget.value)} />
      <p class="tools">
        <label>
          it is a{' '}
          <select
            value={kind}
            onChange={(e) => {
              setKind(e.currentTarget.value)
              if (pasted) void read(e.currentTarget.value, [])
            }}
          >
            <option value="">find out</option>
            {[...shelves].map(([key, label]) => (
              <option key={key} value={key}>
                {label}
              </option>
            ))}
          </select>
        </label>
        <button class="main" onClick={() => void read(kind, [])} disabled={busy || !text.trim()}>
          Read it
        </button>
      </p>
      {problem && <p class="row-problem" role="alert">{problem}</p>}
      {pasted && <Read pasted={pasted} text={text} fix={fix} slot={slot} />}
    </section>
  )
}

type ReadProps = { pasted: Pasted; text: string; fix: (correction: Correction) => void; slot: string }

function Read({ pasted: p, text, fix, slot }: ReadProps) {
  const schema = use((s) => s.schema)
  const build = use((s) => s.build)
  const [note, setNote] = useState('')
  const [held, setHeld] = useState<ShelfPart | null>(null)
  const marks: Mark[] = [
    ...p.figures.map((f, i) => ({ begin: f.begin, end: f.end, kind: f.sure, n: String(i + 1) })),
    ...p.questions.map((q) => ({ begin: q.begin, end: q.end, kind: 'ask', n: '?' })),
  ]
  const places = schema?.slots.filter((s) => s.is_part && s.shelf === p.kind) ?? []
  const [chosen, setPlace] = useState(slot)
  const place = places.some((s) => s.key === chosen) ? chosen : (places[0]?.key ?? '')
  const takeIn = async (putIn: boolean) => {
    try {
      const own = await post<OwnPart>('own-parts', { shelf: p.kind, text: p.part_text, from: text })
      if (putIn && place && (await edit([{ path: place, text: 'own:' + own.id }], 'own part: ' + p.title))) {
        go('b', build?.build ?? 0, 'parts', place)
        return
      }
      setNote('It stands on your shelf.')
      if (!place || !build) return
      const parts = await ask<ShelfPart[]>(`shelves/${p.kind}?build=${build.build}&slot=${place}`)
      setHeld(parts.find((x) => x.own_id === own.id) ?? null)
    } catch (error) {
      tell(error)
    }
  }
  return (
    <div class="read">
      <h2>{p.title || 'Untitled'}</h2>
      <p class="facts">
        <span>
          read as: {schema?.slots.find((s) => s.shelf === p.kind)?.label ?? 'no kind that is known'}
          {p.kind_sure ? `, ${sureWords[p.kind_sure as keyof typeof sureWords] ?? p.kind_sure}` : ''}
        </span>
        {p.price && <span>price {p.price}</span>}
        {p.freight && <span>freight {p.freight}</span>}
        {p.date && <span>{p.date}</span>}
        {p.link && <span class="break">{p.link}</span>}
      </p>
      {p.flags.length > 0 && (
        <ul class="flags">
          {p.flags.map((f) => (
            <li key={f}>{f}</li>
          ))}
        </ul>
      )}
      <Marked text={text} marks={marks} />
      {p.questions.map((q) => (
        <div class="question" key={q.text}>
          <p>{q.text}</p>
          <p class="tools">
            {q.options.map((o) => (
              <button key={o.key + o.text} onClick={() => fix({ key: o.key, text: o.text })}>
                {o.meaning || `${o.label}: ${o.text}`}
              </button>
            ))}
          </p>
        </div>
      ))}
      <h3>Found in it</h3>
      <ol class="found">
        {p.figures.map((f, i) => (
          <Found key={f.key} figure={f} n={i + 1} fix={fix} />
        ))}
      </ol>
      {!p.figures.length && <p>No figure was found in it.</p>}
      {p.message && <Message text={p.message} />}
      {places.length > 1 && (
        <p class="tools">
          <label>
            its place{' '}
            <select value={place} onChange={(e) => setPlace(e.currentTarget.value)}>
              {places.map((s) => (
                <option key={s.key} value={s.key}>
                  {s.label}
                </option>
              ))}
            </select>
          </label>
        </p>
      )}
      <p class="tools">
        {place && (
          <button class="main" onClick={() => void takeIn(true)}>
            Take it in and put it in the bike
          </button>
        )}
        {p.kind && <button onClick={() => void takeIn(false)}>Only put it on your shelf</button>}
        {note && <span role="status">{note}</span>}
      </p>
      {held && (
        <p class="shelf-says" role="status">
          In this bike: <Verdict says={held.says} /> {held.why}
        </p>
      )}
    </div>
  )
}

function Found({ figure: f, n, fix }: { figure: PasteFigure; n: number; fix: (c: Correction) => void }) {
  const [text, setText] = useState(f.text)
  useEffect(() => setText(f.text), [f.text])
  const id = 'found-' + f.key
  const field = fieldOf(f.path)
  const put = () => {
    if (text.trim() === f.text) return
    fix({ key: f.key, text: field ? whole(text, unitOf(field, get().schema)) : text.trim() })
  }
  return (
    <li>
      <label for={id}>
        <span class="found-no">{n}</span> {f.label}
      </label>
      {field?.type === 'choice' && field.options.some((o) => o.word === f.text) ? (
        <select id={id} value={f.text} onChange={(e) => fix({ key: f.key, text: e.currentTarget.value })}>
          {field.options.map((o) => (
            <option key={o.word} value={o.word}>
              {o.label}
            </option>
          ))}
        </select>
      ) : (
        <input
          id={id}
          value={text}
          onInput={(e) => setText(e.currentTarget.value)}
          onBlur={put}
          onKeyDown={(e) => e.key === 'Enter' && put()}
        />
      )}
      <span class={'tag sure-' + f.sure}>{sureWords[f.sure]}</span>
      {f.words && <q>{f.words}</q>}
      {f.why && <span class="soft">{f.why}</span>}
    </li>
  )
}

function Message({ text }: { text: string }) {
  const [copied, setCopied] = useState(false)
  const area = useRef<HTMLTextAreaElement>(null)
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text)
    } catch {
      area.current?.select()
      document.execCommand('copy')
    }
    setCopied(true)
  }
  return (
    <div class="message">
      <h3>
        <label for="message">To the seller</label>
      </h3>
      <textarea id="message" ref={area} readOnly rows={Math.min(14, text.split('\n').length + 1)} value={text} />
      <p>
        <button onClick={() => void copy()}>Copy</button> {copied && <span role="status">It is on the clipboard.</span>}
      </p>
    </div>
  )
}
