// SPDX-License-Identifier: MIT
// Two pages changed the same figure: both versions are shown, the builder chooses for each.
import { useEffect, useRef, useState } from 'preact/hooks'
import { labelOf, use } from './store'
import { settle } from './talk'

export function Conflict() {
  const stale = use((s) => s.stale)
  const [mine, setMine] = useState<Record<string, boolean>>({})
  const dialog = useRef<HTMLDialogElement>(null)
  useEffect(() => {
    setMine({})
    if (stale && dialog.current && !dialog.current.open) dialog.current.showModal()
  }, [stale])
  if (!stale) return null
  const theirs = (path: string) => stale.now.values[path]?.text ?? 'not known'
  const done = () => settle(stale.yours.filter((c) => mine[c.path]))
  const other = stale.changed.filter((c) => !stale.yours.some((y) => y.path === c.path))
  return (
    <dialog ref={dialog} class="dialog" aria-labelledby="conflict-title" onCancel={(e) => e.preventDefault()}>
      <h2 id="conflict-title">Changed in two places</h2>
      <p>Somebody, perhaps you on another page, changed this sheet meanwhile. Nothing of yours was written yet.</p>
      <table class="beside">
        <thead>
          <tr>
            <th scope="col">figure</th>
            <th scope="col">there now</th>
            <th scope="col">yours</th>
          </tr>
        </thead>
        <tbody>
          {stale.yours.map((c) => (
            <tr key={c.path}>
              <th scope="row">{labelOf(c.path)}</th>
              <td>
                <label>
                  <input type="radio" name={'c' + c.path} checked={!mine[c.path]} onChange={() => setMine({ ...mine, [c.path]: false })} />
                  {theirs(c.path)}
                </label>
              </td>
              <td>
                <label>
                  <input type="radio" name={'c' + c.path} checked={!!mine[c.path]} onChange={() => setMine({ ...mine, [c.path]: true })} />
                  {c.text || 'not known'}
                </label>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {other.length > 0 && (
        <p class="soft">Also changed there: {other.map((c) => `${c.label}: ${c.to}`).join('; ')}.</p>
      )}
      <p class="tools">
        <button class="main" onClick={done}>
          Go on with these
        </button>
      </p>
    </dialog>
  )
}
