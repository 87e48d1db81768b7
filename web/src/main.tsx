// SPDX-License-Identifier: MIT
// The page's frame: where one is, the drawing, the working column, the title block.
import { render } from 'preact'
import { useEffect, useRef, useState } from 'preact/hooks'
import { Book } from './book'
import { Choose } from './choose'
import { Conflict } from './conflict'
import { Drawing, PartKey } from './drawing'
import { TitleBlock } from './figures'
import { Fit } from './fit'
import { List } from './list'
import { Now } from './now'
import { Hold, Parts, SlotPage } from './parts'
import { GaragePage, History, Journal, Variants } from './records'
import { Road } from './road'
import { FillIn } from './stage'
import { Start } from './start'
import { Steps } from './steps'
import { get, linkTo, routeOf, set, use } from './store'
import type { Sheet } from './store'
import { Wiring } from './wiring'
import { askBlob, load, open, post, refreshGarage, show, step, tell } from './talk'
import type { State } from './api'

const beside = ['now', 'donor', 'wishes', 'parts', 'fit'] // the views that have the drawing beside them

function Work({ view }: { view: string }) {
  const part = use((s) => s.part)
  const build = use((s) => s.build?.build ?? 0)
  if (part && beside.includes(view)) return <SlotPage key={part} slot={part} beside />
  switch (view) {
    case 'now':
      return <Now />
    case 'donor':
    case 'wishes':
      return <FillIn key={view} stage={view} />
    case 'choose':
      return <Choose key={build} />
    case 'parts':
      return <Parts />
    case 'fit':
      return <Fit />
    case 'road':
      return <Road />
    case 'list':
      return <List />
    case 'wiring':
      return <Wiring />
    case 'steps':
      return <Steps key={build} />
    case 'history':
      return <History />
    case 'journal':
      return <Journal />
    case 'variants':
      return <Variants />
    case 'book':
      return <Book />
    default:
      return <p>There is no such page here.</p>
  }
}

function Stages() {
  const schema = use((s) => s.schema)
  const state = use((s) => s.build)
  const view = use((s) => s.route.view)
  const ready = !!schema && !!state
  const bar = useRef<HTMLElement>(null)
  useEffect(() => {
    // On a phone the bar is wider than the window: the stage one is in comes into sight.
    const here = bar.current?.querySelector<HTMLElement>('[aria-current]')
    if (here && bar.current) bar.current.scrollLeft = here.offsetLeft - (bar.current.clientWidth - here.offsetWidth) / 2
  }, [view, ready])
  if (!schema || !state) return null
  return (
    <nav class="stages" ref={bar} aria-label="stages of the job">
      <a class="stage-now" href={linkTo('b', state.build)} aria-current={view === 'now' ? 'page' : undefined}>
        <span class="stage-no" aria-hidden="true">
          0
        </span>
        Now
      </a>
      {schema.stages.map((s, i) => {
        const openIn = state.stages.find((x) => x.key === s.key)?.open.length ?? 0
        return (
          <a key={s.key} href={linkTo('b', state.build, s.key)} aria-current={view === s.key ? 'page' : undefined}>
            <span class="stage-no" aria-hidden="true">
              {i + 1}
            </span>
            {s.title}
            <span class="stage-open">{openIn ? openIn + ' open' : 'none open'}</span>
          </a>
        )
      })}
    </nav>
  )
}

const sheetWords: Record<Sheet, string> = { system: 'as the system', light: 'light', dark: 'dark' }

function Menu() {
  const state = use((s) => s.build)
  const garage = use((s) => s.garage)
  const sheet = use((s) => s.sheet)
  const [name, setName] = useState('')
  const box = useRef<HTMLDetailsElement>(null)
  useEffect(() => {
    const close = (event: Event) => {
      const gone = event instanceof KeyboardEvent ? event.key === 'Escape' : !box.current?.contains(event.target as Node)
      if (gone && box.current?.open) box.current.open = false
    }
    const leave = () => {
      if (box.current) box.current.open = false
    }
    document.addEventListener('pointerdown', close)
    document.addEventListener('keydown', close)
    window.addEventListener('hashchange', leave)
    return () => {
      document.removeEventListener('pointerdown', close)
      document.removeEventListener('keydown', close)
      window.removeEventListener('hashchange', leave)
    }
  }, [])
  const rename = (event: Event) => {
    event.preventDefault()
    if (!state || !name.trim()) return
    post<State>(`builds/${state.build}/rename`, { name: name.trim() })
      .then((s) => {
        show(s)
        setName('')
        return refreshGarage()
      })
      .catch(tell)
  }
  const units = (system: string) => {
    // Every text, limit, drawing and plot comes in them: all is read anew. What was typed is kept.
    post('units', { units: system })
      .then(() => location.reload())
      .catch(tell)
  }
  const keep = async (path: string, name: string) => {
    try {
      const link = document.createElement('a')
      link.href = URL.createObjectURL(await askBlob(path))
      link.download = name
      link.click()
      window.setTimeout(() => URL.revokeObjectURL(link.href), 2000)
    } catch (error) {
      tell(error)
    }
  }
  const save = async () => {
    if (state) await keep(`builds/${state.build}/sheet`, (state.name.replace(/[^\w\- ]+/g, '').trim() || 'sheet') + '.toml')
  }
  const saveAll = () => keep('garage/backup', `garage-${new Date().toISOString().slice(0, 10)}.db`)
  return (
    <details class="menu" ref={box}>
      <summary>More</summary>
      <div class="menu-in">
        {state && (
          <>
            <a href={linkTo('b', state.build, 'history')}>What was changed</a>
            <a href={linkTo('b', state.build, 'variants')}>Which of two ways</a>
            <a href={linkTo('b', state.build, 'journal')}>Journal</a>
            <a href={linkTo('b', state.build, 'book')}>Build book, to print</a>
            <button class="quiet" onClick={() => void save()}>
              Save the sheet as a file
            </button>
            <form onSubmit={rename}>
              <label for="rename">call it</label>
              <input id="rename" value={name} placeholder={state.name} onInput={(e) => setName(e.currentTarget.value)} />
              <button>Rename</button>
            </form>
          </>
        )}
        <button class="quiet" onClick={() => void saveAll()}>
          Save the whole garage as a file
        </button>
        <fieldset>
          <legend>units</legend>
          {['metric', 'imperial'].map((u) => (
            <label key={u}>
              <input type="radio" name="units" checked={garage?.units === u} onChange={() => units(u)} /> {u}
            </label>
          ))}
        </fieldset>
        <fieldset>
          <legend>paper</legend>
          {(['system', 'light', 'dark'] as const).map((s) => (
            <label key={s}>
              <input type="radio" name="sheet" checked={sheet === s} onChange={() => set({ sheet: s })} /> {sheetWords[s]}
            </label>
          ))}
        </fieldset>
      </div>
    </details>
  )
}

function Head() {
  const state = use((s) => s.build)
  return (
    <header class="head">
      <a class="mark" href="#/" aria-label="Wattwright, to the garage">
        <svg width="26" height="26" viewBox="0 0 32 32" aria-hidden="true">
          <circle cx="9" cy="20.5" r="4.6" />
          <circle cx="23" cy="20.5" r="4.6" />
          <path d="M9 20.5H16L21 12L23 20.5M13 12H21" />
          <path class="s-accent" d="M9 28H23M9 26.5V29.5M23 26.5V29.5" />
        </svg>
        <span>Wattwright</span>
      </a>
      <Stages />
      <div class="head-right">
        {state && (
          <>
            <button class="quiet" disabled={!state.can_undo} title={state.undo_what} onClick={() => void step('undo')}>
              Undo
            </button>
            <button class="quiet redo" disabled={!state.can_redo} title={state.redo_what} onClick={() => void step('redo')}>
              Redo
            </button>
          </>
        )}
        <Menu />
      </div>
    </header>
  )
}

function Bars() {
  const offline = use((s) => s.offline)
  const pending = use((s) => s.pending.length)
  const notice = use((s) => s.notice)
  const shut = use((s) => (s.schema ? s.shut : ''))
  const waits = pending === 1 ? 'One change waits here and will be sent.' : `${pending} changes wait here and will be sent.`
  return (
    <>
      {offline && (
        <div class="bar bar-off" role="status">
          The program does not answer. {pending ? waits : 'Go on; what you type is kept here and sent when it is back.'}
        </div>
      )}
      {shut && (
        <div class="bar bar-off" role="status">
          The program was started anew. Open the address that it printed, here or in another window, and this page goes on.
          {pending ? ' ' + waits : ''}
        </div>
      )}
      {notice && (
        <div class="bar" role="status">
          {notice}{' '}
          <button class="quiet" onClick={() => set({ notice: '' })}>
            Seen
          </button>
        </div>
      )}
    </>
  )
}

const seen = { both: 'both', side: 'from the side', top: 'from above', none: 'put away' }
type Seen = keyof typeof seen

function Board({ which, setWhich }: { which: Seen; setWhich: (w: Seen) => void }) {
  const part = use((s) => s.part)
  const [numbers, setNumbers] = useState<Record<string, string>>({})
  return (
    <section class={'board show-' + which + (part ? ' has-part' : '')} aria-label="the bike">
      <div class="choose board-switch" role="radiogroup" aria-label="seen">
        {(Object.keys(seen) as Seen[]).map((w) => (
          <label key={w} class={'see-' + w + (which === w ? ' on' : '')}>
            <input type="radio" name="which" checked={which === w} onChange={() => setWhich(w)} />
            {seen[w]}
          </label>
        ))}
      </div>
      {(which === 'both' || which === 'side') && <Drawing view="side" numbers={setNumbers} />}
      {(which === 'both' || which === 'top') && <Drawing view="top" legend={which !== 'both'} />}
      {which !== 'none' && <PartKey numbers={numbers} />}
    </section>
  )
}

function BuildPage() {
  const view = use((s) => s.route.view)
  const state = use((s) => s.build)
  const part = use((s) => s.part)
  const main = useRef<HTMLElement>(null)
  const [first, setFirst] = useState<Seen>(() => (window.innerWidth > 900 ? 'both' : 'side'))
  const [later, setLater] = useState<Seen>(() => (window.innerWidth > 900 ? 'both' : 'none'))
  const [which, setWhich] = view === 'now' ? [first, setFirst] : [later, setLater]
  const trail = use((s) => s.route.rest.join('/'))
  useEffect(() => {
    main.current?.scrollTo(0, 0)
    window.scrollTo(0, 0)
  }, [view, trail])
  useEffect(() => main.current?.scrollTo(0, 0), [part])
  if (!state) return <p class="wait" role="status">The sheet is being laid out.</p>
  const withDrawing = beside.includes(view)
  const desk = !withDrawing ? 'desk-one' : view === 'now' && !part ? 'desk-two desk-now' : 'desk-two'
  return (
    <div class={'desk ' + desk}>
      {withDrawing && <Board which={which} setWhich={setWhich} />}
      <main class="work" ref={main} id="work" tabIndex={-1}>
        <Work view={view} />
      </main>
    </div>
  )
}

function Page() {
  const route = use((s) => s.route)
  const ready = use((s) => !!s.schema && !!s.garage)
  const shut = use((s) => s.shut)
  const said = use((s) => s.said)
  const sheet = use((s) => s.sheet)
  useEffect(() => {
    if (sheet === 'system') delete document.documentElement.dataset.sheet
    else document.documentElement.dataset.sheet = sheet
  }, [sheet])
  useEffect(() => {
    const name = get().build?.name
    document.title = (route.build && name ? name + ' · ' : '') + 'Wattwright'
  }, [route])
  return (
    <>
      <a class="skip" href="#work" onClick={(e) => { e.preventDefault(); document.getElementById('work')?.focus() }}>
        To the work
      </a>
      <Head />
      <Bars />
      {shut && !ready ? (
        <main class="work narrow">
          <h1 class="stage-title">The garage is shut</h1>
          <p>{shut}</p>
          <p>Open the address that the program printed when it was started: it lets this page in.</p>
        </main>
      ) : !ready ? (
        <p class="wait" role="status">
          Waiting for the program.
        </p>
      ) : route.build ? (
        <BuildPage />
      ) : (
        <main class="work" id="work" tabIndex={-1}>
          {route.view === 'start' ? <Start /> : route.view === 'hold' ? <Hold /> : <GaragePage />}
        </main>
      )}
      {route.build > 0 && ready && <TitleBlock />}
      <div class="sr" aria-live="polite">
        {said}
      </div>
      <Conflict />
    </>
  )
}

window.addEventListener('hashchange', () => {
  const route = routeOf(location.hash)
  const moved = route.view !== get().route.view || route.build !== get().route.build || route.rest.join() !== get().route.rest.join()
  set({ route, ...(moved ? { part: '' } : {}) })
  if (route.build) void load(route.build)
})

const place = document.getElementById('page')
if (place) render(<Page />, place)
void open()
