// SPDX-License-Identifier: MIT
// A report in pieces: headings, tables, sentences, each caution where it belongs.
import type { Piece } from './api'
import { Caution, degrees } from './words'

const signs: Record<string, string> = { '!': 'wrong: ', '?': 'open: ', '+': 'there: ' }

/// Pieces from one heading to the next.
export function sections(pieces: Piece[]): { title: string; pieces: Piece[] }[] {
  const out: { title: string; pieces: Piece[] }[] = [{ title: '', pieces: [] }]
  for (const p of pieces) {
    if (p.sort === 'heading') out.push({ title: p.text, pieces: [] })
    else out[out.length - 1]!.pieces.push(p)
  }
  return out.filter((s) => s.title || s.pieces.length)
}

export function Pieces({ pieces }: { pieces: Piece[] }) {
  return (
    <>
      {pieces.map((p, i) => (
        <One key={i} piece={p} />
      ))}
    </>
  )
}

function One({ piece: p }: { piece: Piece }) {
  if (p.sort === 'heading') return <h2>{p.text}</h2>
  if (p.sort === 'small heading') return <h3>{p.text}</h3>
  if (p.sort === 'caution') return <Caution>{degrees(p.text)}</Caution>
  if (p.sort === 'table') return <Rows piece={p} />
  const sign = p.mark.replace(/[^!?+]/g, '')
  return (
    <p class={'told' + (sign ? ' told-' + (sign === '!' ? 'wrong' : sign === '?' ? 'open' : 'there') : '')}>
      {sign && <span class="sr">{signs[sign]}</span>}
      {degrees(p.text)}
    </p>
  )
}

function Rows({ piece: p }: { piece: Piece }) {
  const [heads = [], ...rows] = p.rows
  const side = (i: number) => (p.right[i] === 'r' ? 'num' : undefined)
  return (
    <div class="wide" tabIndex={0} role="group" aria-label={heads.filter(Boolean).join(', ')}>
      <table class="list told-table">
        <thead>
          <tr>
            {heads.map((h, i) => (
              <th key={i} scope="col" class={side(i)}>
                {h || <span class="sr">{i === 0 ? 'name' : 'note'}</span>}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((cells, r) => (
            <tr key={r}>
              {cells.map((c, i) =>
                i === 0 ? (
                  <th key={i} scope="row">
                    {degrees(c)}
                  </th>
                ) : (
                  <td key={i} class={side(i)} data-name={heads[i] ?? ''}>
                    {degrees(c)}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
