// SPDX-License-Identifier: MIT
import { Component, createElement } from 'preact'
import type { ComponentChild, FunctionComponent } from 'preact'

/// Draws again only when a property is another one.
export function memo<P extends object>(Inner: FunctionComponent<P>): FunctionComponent<P> {
  class Kept extends Component<P> {
    shouldComponentUpdate(next: Readonly<P>): boolean {
      const was = this.props as Record<string, unknown>
      const is = next as Record<string, unknown>
      return Object.keys({ ...was, ...is }).some((key) => was[key] !== is[key])
    }
    render(props: P): ComponentChild {
      return createElement(Inner, props)
    }
  }
  return Kept as unknown as FunctionComponent<P>
}
