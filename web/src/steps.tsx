// SPDX-License-Identifier: MIT
// The work step by step: what may be done now, what must be read, what was read and what follows.
import { useEffect, useState } from 'preact/hooks'
import type { Lesson, Photo, State, Step, Steps as StepsIs, WireAsBuilt } from './api'
import { Fields } from './field'
import { Pieces } from './pieces'
import { StageHead, useOf } from './stage'
import { get, use } from './store'
import { ask, post, postPicture, Refusal, show, tell } from './talk'
import { Caution, degrees, plural } from './words'

type Put = { busy: boolean; problem: string; put: (path: string, body: object) => Promise<boolean> }

/// Sends one entry on the revision shown; what is refused is told where it was typed.
function usePut(): Put {
  const [busy, setBusy] = useState(false)
  const [problem, setProblem] = useState('')
  const put = async (path: string, body: object) => {
    const build = get().build
    if (!build) return false
    setBusy(true)
    setProblem('')
    try {
      show(await post<State>(`builds/${build.build}/${path}`, { base: build.revision, ...body }))
      return true
    } catch (error) {
      if (error instanceof Refusal && error.status === 400)
        setProblem(error.problems.map((p) => [p.field?.startsWith('line') ? p.field : '', p.what, p.expected && 'expected: ' + p.expected].filter(Boolean).join('; ')).join(' / '))
      else tell(error)
      return false
    } finally {
      setBusy(false)
    }
  }
  return { busy, problem, put }
}

const words: Record<Step['verdict'], string> = {
  open: 'may be done now',
  waiting: 'others come first',
  stopped: 'stopped',
  within: 'passed',
  doubtful: 'not passed: read it closer',
  outside: 'not passed',
  unreadable: 'not passed: no reading',
  unjudged: 'cannot be judged',
}
const marks: Record<Step['verdict'], string> = {
  open: '', waiting: '', stopped: 'M3 8h10', within: 'M3 8l4 4 6-9', doubtful: 'M8 3v6M8 11v2', outside: 'M3 3l10 10M13 3L3 13',
  unreadable: 'M3 3l10 10M13 3L3 13', unjudged: 'M5 5c0-3 6-3 6 0 0 2-3 2-3 4M8 12v1.5',
}

export function Steps() {
  const steps = useOf<StepsIs>('steps')
  const album = useAlbum()
  const [stage, setStage] = useState('')
  if (!steps) {
    return (
      <>
        <StageHead stage="steps" />
        <p class="soft">The steps are being worked out.</p>
      </>
    )
  }
  const all = steps.stages.flatMap((s) => s.steps)
  const passed = all.filter((s) => s.verdict === 'within').length
  const bad = all.filter((s) => ['outside', 'doubtful', 'unreadable'].includes(s.verdict)).length
  const shown = steps.stages.find((s) => s.key === stage)
  return (
    <div class="steps-stage">
      <StageHead stage="steps" />
      <Caution>
        Two people, one of whom only watches and holds the disconnect. Nothing is powered that was not measured unpowered. A
        reading outside its band stops what depends on it; it is not argued away. Mains, work on the road and certificates
        belong to competent persons and the local code. These steps follow from the sheet; they do not see the bike.
      </Caution>
      <p class="blunt">
        {passed} of {all.length} steps have passed{bad ? `; ${plural(bad, 'reading has', 'readings have')} not passed` : ''}.
      </p>
      {steps.strangers.map((s) => (
        <p key={s} class="note">
          In the log, but no step of this build: {s}
        </p>
      ))}
      <div class="choose" role="radiogroup" aria-label="which steps">
        {[{ key: '', title: 'What may be done now', steps: all.filter((s) => s.next) }, ...steps.stages].map((s) => (
          <label key={s.key} class={stage === s.key ? 'on' : ''}>
            <input type="radio" name="steps" checked={stage === s.key} onChange={() => setStage(s.key)} />
            {s.title} <span class="soft">{s.key ? `${s.steps.filter((x) => x.verdict === 'within').length}/${s.steps.length}` : s.steps.length}</span>
          </label>
        ))}
      </div>
      {shown ? (
        <>
          {shown.key === 'pack' && <Cells steps={steps} />}
          <List steps={shown.steps} wires={steps.wires} album={album} />
        </>
      ) : (
        <Now steps={steps} album={album} />
      )}
      {(!shown || shown.key === 'wires') && (
        <section>
          <h2>What is laid, and what makes it live</h2>
          <Pieces pieces={steps.live} />
        </section>
      )}
      <Teaches />
    </div>
  )
}

/// What did not pass first, then a few of each stage.
function Now({ steps, album }: { steps: StepsIs; album: Album }) {
  const [more, setMore] = useState(false)
  const stopped = steps.stages.flatMap((s) => s.steps.filter((x) => x.next && x.verdict !== 'open'))
  const may = steps.stages.map((s) => s.steps.filter((x) => x.next && x.verdict === 'open'))
  const list = [...stopped, ...may.flatMap((s) => (more ? s : s.slice(0, 3)))]
  const left = may.reduce((n, s) => n + Math.max(s.length - 3, 0), 0)
  return (
    <>
      <List steps={list} wires={steps.wires} album={album} />
      {!list.length && <p>Nothing: every step has passed, or waits for a figure of the sheet.</p>}
      {left > 0 && (
        <button class="quiet" onClick={() => setMore(!more)}>
          {more ? 'Only the first of each' : `${left} more may be done now`}
        </button>
      )}
    </>
  )
}

function List({ steps, wires, album }: { steps: Step[]; wires: WireAsBuilt[]; album: Album }) {
  return (
    <ol class="steps">
      {steps.map((s, i) => (
        <One key={s.id} step={s} sameLive={i > 0 && steps[i - 1]!.live === s.live} wire={wires.find((w) => 'wire-' + w.label === s.id)} album={album} />
      ))}
    </ol>
  )
}

function One({ step: s, sameLive, wire, album }: { step: Step; sameLive: boolean; wire: WireAsBuilt | undefined; album: Album }) {
  const [open, setOpen] = useState(s.next)
  return (
    <li class={'step step-' + s.verdict}>
      <details open={open} onToggle={(e) => setOpen(e.currentTarget.open)}>
        <summary>
          <svg class="step-box" width="20" height="20" viewBox="-2 -2 20 20" aria-hidden="true">
            <path d="M0 0h16v16H0z" class="s-line" />
            <path d={marks[s.verdict]} class="s-bold" />
          </svg>
          <b>{s.title}</b> <span class="tag">{words[s.verdict]}</span>
        </summary>
        {open && (
          <div class="step-in">
            <Caution>{degrees(s.caution)}</Caution>
            <p>{degrees(s.doing)}</p>
            {s.live && <p class="soft">{sameLive ? 'Live: as in the step above.' : degrees(s.live)}</p>}
            {s.band && <Expect step={s} />}
            {s.readings.map((r, i) => (
              <p key={i} class={i + 1 < s.readings.length ? 'soft' : ''}>
                Read: {degrees(r)}
              </p>
            ))}
            {s.standing && <p class="step-standing">{degrees(s.standing)}</p>}
            {s.tree.length > 0 && <Tree step={s} />}
            {s.missing.length > 0 && <Fields paths={s.missing.map((m) => m.path)} where={'step-' + s.id + '-'} />}
            {wire ? <Laid step={s} wire={wire} /> : !s.from_sheet && <Log step={s} />}
            <Seen step={s} album={album} />
          </div>
        )}
      </details>
    </li>
  )
}

function Expect({ step: s }: { step: Step }) {
  return (
    <div class="step-expect">
      <p>
        Expect <b>{degrees(s.band)}</b>
        {s.tool && !s.from_sheet ? `, with ${s.tool}` : ''}
      </p>
      {(s.sum || s.bounds) && (
        <details class="how">
          <summary>how that comes about</summary>
          {s.sum && <p>Sum: {degrees(s.sum)}</p>}
          {s.bounds && <p>Band: {degrees(s.bounds)}</p>}
        </details>
      )}
    </div>
  )
}

function Tree({ step: s }: { step: Step }) {
  return (
    <div>
      <p>
        <b>It differs. Look, in this order:</b>
      </p>
      <ol class="step-tree">
        {s.tree.map((b) => (
          <li key={b.look}>
            {degrees(b.look)} <span class="soft">It would mean: {degrees(b.means)}</span>
          </li>
        ))}
      </ol>
    </div>
  )
}

function Log({ step: s }: { step: Step }) {
  const [reading, setReading] = useState('')
  const [instrument, setInstrument] = useState('')
  const [note, setNote] = useState('')
  const { busy, problem, put } = usePut()
  const log = async (text: string) => {
    if (await put('steps/done', { step: s.id, reading: text, instrument, note })) {
      setReading('')
      setNote('')
    }
  }
  const id = 'log-' + s.id
  return (
    <form
      class={'step-log' + (problem ? ' row-bad' : '')}
      onSubmit={(e) => {
        e.preventDefault()
        if (reading.trim()) void log(reading)
      }}
    >
      {s.tick ? (
        <>
          <button type="button" disabled={busy} onClick={() => void log('yes')}>
            Yes, done
          </button>
          <button type="button" class="quiet" disabled={busy} onClick={() => void log('no')}>
            No
          </button>
        </>
      ) : (
        <>
          <label>
            read
            <input id={id} type="text" autocomplete="off" value={reading} placeholder="with its unit" aria-invalid={problem ? 'true' : undefined} onInput={(e) => setReading(e.currentTarget.value)} />
          </label>
          <label>
            with
            <input type="text" value={instrument} placeholder="which meter" onInput={(e) => setInstrument(e.currentTarget.value)} />
          </label>
        </>
      )}
      <label>
        note
        <input type="text" value={note} onInput={(e) => setNote(e.currentTarget.value)} />
      </label>
      {!s.tick && (
        <button disabled={busy || !reading.trim()}>Put it down</button>
      )}
      {problem && (
        <p class="row-problem" role="alert">
          {degrees(problem)}
        </p>
      )}
    </form>
  )
}

type Album = { all: Photo[]; renew: () => Promise<void> }

/// The build's photographs, asked for once for all steps.
function useAlbum(): Album {
  const build = use((b) => b.build?.build ?? 0)
  const [all, setAll] = useState<Photo[]>([])
  const renew = () => ask<Photo[]>(`builds/${build}/photos`).then(setAll).catch(tell)
  useEffect(() => {
    if (build) void renew()
  }, [build])
  return { all, renew }
}

/// Photographs of a step as it was built; kept in the garage under the step's name.
function Seen({ step: s, album }: { step: Step; album: Album }) {
  const build = use((b) => b.build?.build ?? 0)
  const field = 'steps.' + s.id
  const photos = album.all.filter((p) => p.field === field)
  const keep = async (picture: File) => {
    try {
      await postPicture(`builds/${build}/photos?caption=${encodeURIComponent(s.title)}&field=${encodeURIComponent(field)}`, picture)
      await album.renew()
    } catch (error) {
      tell(error)
    }
  }
  return (
    <div class="step-seen">
      <label class="button quiet">
        Photograph it
        <input
          type="file"
          class="sr"
          accept="image/jpeg,image/png,image/webp"
          capture="environment"
          onChange={(e) => {
            const picture = e.currentTarget.files?.[0]
            if (picture) void keep(picture)
            e.currentTarget.value = ''
          }}
        />
      </label>
      {photos.map((p) => (
        <a key={p.id} href={'/api/photos/' + p.id} target="_blank" rel="noopener">
          <img src={'/api/photos/' + p.id} alt={'photo of ' + s.title} loading="lazy" />
        </a>
      ))}
    </div>
  )
}

function Laid({ step: s, wire }: { step: Step; wire: WireAsBuilt }) {
  const empty = { colour: '', length: '', section: '', torque: '', lug_from: '', lug_to: '', note: '' }
  const [is, setIs] = useState(empty)
  const { busy, problem, put } = usePut()
  const labels: Record<keyof typeof empty, string> = {
    colour: 'colour', length: 'length', section: 'size', torque: 'tightened to', lug_from: 'lug, ' + wire.from, lug_to: 'lug, ' + wire.to, note: 'note',
  }
  const lay = async (laid: boolean) => {
    if (await put('steps/laid', { label: wire.label, laid, ...is })) setIs(empty)
  }
  return (
    <form
      class={'step-log' + (problem ? ' row-bad' : '')}
      onSubmit={(e) => {
        e.preventDefault()
        void lay(true)
      }}
    >
      <p class="soft step-wide">What was really taken; empty is as drawn. Now {wire.laid ? 'laid' : 'not laid'}; {wire.reach}.</p>
      {(Object.keys(empty) as (keyof typeof empty)[]).map((k) => (
        <label key={k}>
          {labels[k]}
          <input type="text" value={is[k]} onInput={(e) => setIs({ ...is, [k]: e.currentTarget.value })} />
        </label>
      ))}
      <button disabled={busy}>{wire.laid ? 'Keep what was taken' : s.id.slice(5) + ' is in'}</button>
      {wire.laid && (
        <button type="button" class="quiet" disabled={busy} onClick={() => void lay(false)}>
          It is out again
        </button>
      )}
      {problem && (
        <p class="row-problem" role="alert">
          {degrees(problem)}
        </p>
      )}
    </form>
  )
}

function Cells({ steps }: { steps: StepsIs }) {
  const [text, setText] = useState<string | null>(null)
  const { busy, problem, put } = usePut()
  const now = text ?? steps.cells_text
  return (
    <section class="note">
      <h2>Cells or modules as they came</h2>
      <p class="soft">
        A line each: name, volts, capacity, resistance; volts a second time two weeks later; “group 3” once it is built in. They
        are sorted so that the weakest group holds the most.
      </p>
      <form
        onSubmit={(e) => {
          e.preventDefault()
          void put('steps/cells', { text: now }).then((good) => good && setText(null))
        }}
      >
        <textarea aria-label="cells or modules as they came" rows={Math.min(12, Math.max(4, now.split('\n').length))} spellcheck={false} value={now} placeholder={'C01 3.292 V 104.8 Ah 0.52 mohm\nC02 3.291 V 103.9 Ah 0.55 mohm'} onInput={(e) => setText(e.currentTarget.value)} />
        <p class="tools">
          <button disabled={busy || text === null}>Sort them</button>
          {text !== null && (
            <button type="button" class="quiet" onClick={() => setText(null)}>
              As it was
            </button>
          )}
        </p>
        {problem && (
          <p class="row-problem" role="alert">
            {problem}
          </p>
        )}
      </form>
      <Pieces pieces={steps.cells} />
    </section>
  )
}

/// What readings that passed change in the sheet, asked for when it is opened.
function Teaches() {
  const [open, setOpen] = useState(false)
  return (
    <details class="fold" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>What the readings teach</summary>
      {open && <Taught />}
    </details>
  )
}

function Taught() {
  const lesson = useOf<Lesson>('lesson')
  const ready = use((s) => s.build?.ready === 'full')
  const { busy, problem, put } = usePut()
  if (!lesson) return <p class="soft">{ready ? 'The bike is ridden again with each of them.' : 'The full figures are being worked out first.'}</p>
  return (
    <>
      <Pieces pieces={lesson.pieces} />
      {lesson.count > 0 && (
        <button disabled={busy} onClick={() => void put('lesson', {})}>
          Take {plural(lesson.count, 'figure', 'figures')} into the sheet as measured
        </button>
      )}
      {problem && (
        <p class="row-problem" role="alert">
          {problem}
        </p>
      )}
    </>
  )
}
