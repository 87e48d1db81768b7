// SPDX-License-Identifier: MIT
// SVG that came as text, made fit to stand in the page: only drawing elements, no scripts, no
// handlers, no addresses that lead away.

const allowed = new Set([
  'svg', 'g', 'path', 'line', 'polyline', 'polygon', 'rect', 'circle', 'ellipse', 'text', 'tspan',
  'title', 'desc', 'defs', 'clippath', 'pattern', 'lineargradient', 'radialgradient', 'stop', 'marker',
])

const sheets = new Set<string>()

/// Style sheets inside a drawing are taken over once each, as sheets of the page.
function adopt(css: string): void {
  if (sheets.has(css)) return
  sheets.add(css)
  try {
    const sheet = new CSSStyleSheet()
    sheet.replaceSync(css)
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet]
  } catch {
    // An old browser: the page's own classes do.
  }
}

function clean(element: Element): boolean {
  if (!allowed.has(element.localName.toLowerCase())) return false
  for (const attribute of [...element.attributes]) {
    const name = attribute.name.toLowerCase()
    const value = attribute.value.trim().toLowerCase()
    const away = /^(xlink:)?href$/.test(name) && !value.startsWith('#')
    if (name.startsWith('on') || away || name === 'style' || value.startsWith('javascript:') || /url\(\s*['"]?[^#'"\s)]/.test(value)) {
      element.removeAttribute(attribute.name)
    }
  }
  for (const child of [...element.children]) {
    if (!clean(child)) child.remove()
  }
  return true
}

/// The drawing as an element; null where the text is no drawing.
export function svgFrom(text: string): SVGSVGElement | null {
  if (!text.trim()) return null
  const bare = text.replace(/<style>([^<]*)<\/style>/g, (_, css: string) => {
    adopt(css)
    return ''
  })
  const parsed = new DOMParser().parseFromString(bare, 'image/svg+xml')
  const root = parsed.documentElement
  if (root.localName !== 'svg' || parsed.querySelector('parsererror') || !clean(root)) return null
  return document.importNode(root, true) as unknown as SVGSVGElement
}
