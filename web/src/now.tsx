// SPDX-License-Identifier: MIT
// Where a build stands: the figures, one blunt sentence, what the answer rests on, the next job.
import { useState } from 'preact/hooks'
import type { Assumption } from './api'
import { Fields } from './field'
import { Four } from './figures'
import { hasPicture, Picture } from './howto'
import { labelOf, linkTo, use } from './store'
import { afterCaution, Caution, degrees, fromTo, plural } from './words'

export function Now() {
  const state = use((s) => s.build)
  if (!state) return null
  return (
    <>
      <h1 class="stage-title">Where it stands</h1>
      {state.blunt && <p class="blunt">{degrees(state.blunt)}</p>}
      <Four />
      <NextJob />
      {state.caution && <Caution>{afterCaution(state.caution)}</Caution>}
      {state.notices.map((n) => (
        <p key={n} class="note">
          {n}
        </p>
      ))}
      <Rests />
      {state.sketched.length > 0 && (
        <section class="note">
          <h2>Sketched in for now</h2>
          <p class="soft">Invented parts, to be read as what to shop for.</p>
          <ul>
            {state.sketched.map((s) => (
              <li key={s}>{s}</li>
            ))}
          </ul>
        </section>
      )}
    </>
  )
}

function NextJob() {
  const job = use((s) => s.build?.next ?? null)
  const build = use((s) => s.build?.build ?? 0)
  if (!job) return null
  // A job that swaps a part has no figure to fill in.
  const part = job.path.endsWith('.part') ? job.path.slice(0, -'.part'.length) : ''
  return (
    <section class="job">
      <h2>
        <span class="cell-label">the next job</span>
        {job.title}
      </h2>
      <p>
        {job.how ? job.how[0]?.toUpperCase() + job.how.slice(1) + '. ' : ''}
        {job.minutes > 0 ? `About ${plural(job.minutes, 'minute', 'minutes')}. ` : ''}
        {job.because}
      </p>
      {part ? (
        <p>
          <a href={linkTo('b', build, 'parts', part)}>To the {labelOf(part)}, its findings and ways out</a>
        </p>
      ) : (
        job.path.includes('.') && <Fields paths={[job.path]} where="job-" />
      )}
    </section>
  )
}

function Rests() {
  const list = use((s) => s.build?.assumptions ?? [])
  const ready = use((s) => s.build?.ready === 'full')
  if (!list.length) {
    return ready ? null : <p class="soft">What moves the answer most is being worked out.</p>
  }
  return (
    <section>
      <h2>What the distance rests on, the heaviest first</h2>
      <ol class="rests">
        {list.map((a, i) => (
          <Rest key={a.path} assumption={a} open={i === 0} />
        ))}
      </ol>
    </section>
  )
}

function Rest({ assumption: a, open }: { assumption: Assumption; open: boolean }) {
  const [shown, setShown] = useState(open)
  return (
    <li>
      <details open={shown} onToggle={(e) => setShown(e.currentTarget.open)}>
        <summary>
          <b>{a.label}</b>
          <span class="tag">{a.from}</span>
          <span class="spread">{fromTo(a.low, a.high)}</span>
        </summary>
        {shown && (
          <div class="rest-in">
            {hasPicture(a.path) && <Picture path={a.path} />}
            {a.how && <p>To pin it down: {a.how}.</p>}
            <Fields paths={[a.path]} where="rest-" />
          </div>
        )}
      </details>
    </li>
  )
}
