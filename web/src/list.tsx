// SPDX-License-Identifier: MIT
// The parts list: what to order, what waits for which figure, what it comes to.
import type { Line, PartsList } from './api'
import { Fields } from './field'
import { Forms, StageHead, useOf } from './stage'
import { labelOf, use } from './store'
import { Fig, Sign } from './words'

export function List() {
  const list = useOf<PartsList>('list')
  const schema = use((s) => s.schema)
  const keys = schema?.stages.find((s) => s.key === 'list')?.slots ?? []
  const slots = schema?.slots.filter((s) => keys.includes(s.key) && !s.is_part) ?? []
  return (
    <>
      <StageHead stage="list" />
      {list ? <Whole list={list} /> : <p class="soft">The list is being made.</p>}
      {slots.length > 0 && <Forms slots={slots} />}
    </>
  )
}

export function Whole({ list, print = false }: { list: PartsList; print?: boolean }) {
  return (
    <>
      <dl class="four money">
        <div>
          <dt>in all</dt>
          <dd>
            <Fig text={`${list.total} ${list.currency}`} class="big" />
          </dd>
        </div>
        <div>
          <dt>likely between</dt>
          <dd>
            <Fig text={list.low} /> and <Fig text={list.high} />
          </dd>
        </div>
        <div>
          <dt>set aside for what goes wrong</dt>
          <dd>
            <Fig text={list.contingency} />
          </dd>
        </div>
        <div>
          <dt>how well it is known</dt>
          <dd class="word">{list.priced}</dd>
        </div>
      </dl>
      <Lines title="Parts, shop work, papers" lines={list.lines} print={print} open />
      <Lines title="Small parts nobody lists" lines={list.small_parts} print={print} />
      <Lines title="Tools not yet there" lines={list.tools} print={print} />
    </>
  )
}

function Lines({ title, lines, print, open = false }: { title: string; lines: Line[]; print: boolean; open?: boolean }) {
  if (!lines.length) return null
  const groups = [...new Set(lines.map((l) => l.group))]
  return (
    <details class="fold" open={open || print}>
      <summary>
        {title} <span class="soft">{lines.length}</span>
      </summary>
      <table class="list">
        <thead>
          <tr>
            <th scope="col">what</th>
            <th scope="col">chosen</th>
            <th scope="col">how many</th>
            <th scope="col">price</th>
            <th scope="col">from</th>
            <th scope="col">comes in</th>
            <th scope="col">may be ordered</th>
          </tr>
        </thead>
        {groups.map((group) => (
          <tbody key={group}>
            <tr class="group">
              <th colSpan={7} scope="colgroup">
                {group}
              </th>
            </tr>
            {lines.filter((l) => l.group === group).map((l, i) => (
              <ListLine key={l.what + i} line={l} print={print} />
            ))}
          </tbody>
        ))}
      </table>
    </details>
  )
}

function ListLine({ line: l, print }: { line: Line; print: boolean }) {
  const stop = l.clashes.length > 0
  const waits = l.waits_for.length > 0
  return (
    <tr class={l.missing ? 'absent' : ''}>
      <th scope="row">{l.what}</th>
      <td data-name="chosen">{l.chosen || (l.missing ? 'missing' : '')}</td>
      <td data-name="how many" class="num">
        {l.quantity}
      </td>
      <td data-name="price" class="num">
        {l.price}
        {l.half_width && l.half_width !== '0' && <span class="soft"> ± {l.half_width}</span>}
      </td>
      <td data-name="from">{[l.price_from, l.evidence].filter(Boolean).join(', ')}</td>
      <td data-name="comes in">{l.lead}</td>
      <td data-name="may be ordered">
        {stop ? (
          <span class="verdict">
            <Sign says="clash" /> no, it clashes
          </span>
        ) : waits ? (
          <span class="verdict">
            <Sign says="unmeasured" /> not yet, it waits
          </span>
        ) : l.state === 'ordered' || l.state === 'here' ? (
          'is ' + l.state
        ) : l.missing ? (
          'not chosen yet'
        ) : (
          'nothing known against it'
        )}
        {(l.because || waits) && (print ? <p class="soft">{l.because}</p> : <WaitsFor line={l} />)}
      </td>
    </tr>
  )
}

function WaitsFor({ line: l }: { line: Line }) {
  return (
    <details class="how">
      <summary>{l.waits_for.length ? 'waits for ' + l.waits_for.map((w) => w.label).slice(0, 2).join(', ') + (l.waits_for.length > 2 ? ' …' : '') : 'why'}</summary>
      {l.because && <p>{l.because}</p>}
      <Fields paths={l.waits_for.map((w) => w.path)} where={'list-' + l.what.replace(/\W/g, '') + '-'} />
      {!l.waits_for.length && <p class="soft">{l.clashes.map(labelOf).join(', ')}</p>}
    </details>
  )
}
