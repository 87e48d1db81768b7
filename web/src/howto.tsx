// SPDX-License-Identifier: MIT
// Where the tape or the caliper goes: three base drawings (from the side, from above, the hub's
// face) and, for each figure, the line to measure.

type Mark =
  | { kind: 'across'; from: [number, number]; to: [number, number]; drop?: number }
  | { kind: 'circle'; at: [number, number]; r: number }
  | { kind: 'scale'; at: [number, number] }
  | { kind: 'turn'; at: [number, number]; r: number; a: number; b: number }

type Base = 'side' | 'above' | 'hub' | 'ends'

const across = (x1: number, y1: number, x2: number, y2: number, drop = 0): Mark => ({
  kind: 'across',
  from: [x1, y1],
  to: [x2, y2],
  drop,
})

// Side: front wheel at the left (52, 104), rear (196, 104), both of radius 30; pivot (146, 96);
// front sprocket (132, 92); bay 88..142 by 52..98; ground at 134; seat at 150..196, 44.
// Above: centre plane at y = 75; front at the left; rear wheel 160..236; swingarm 120..200.
const figures: Record<string, { base: Base; marks: Mark[] }> = {
  'donor.wheelbase': { base: 'side', marks: [across(52, 104, 196, 104, 42)] },
  'donor.bay_length': { base: 'side', marks: [across(88, 76, 140, 76)] },
  'donor.bay_height': { base: 'side', marks: [across(112, 50, 112, 98)] },
  'donor.ground_clearance': { base: 'side', marks: [across(116, 102, 116, 134)] },
  'donor.swingarm_length': { base: 'side', marks: [across(146, 96, 196, 104, -14)] },
  'donor.swingarm_length_max': { base: 'side', marks: [across(146, 96, 202, 105, -14)] },
  'donor.sprocket_x': { base: 'side', marks: [across(132, 92, 146, 92, -20)] },
  'donor.sprocket_z': { base: 'side', marks: [across(160, 92, 160, 96), across(132, 92, 164, 92)] },
  'donor.swingarm_top': { base: 'side', marks: [across(146, 89, 146, 96)] },
  'donor.swingarm_to_sprocket': { base: 'side', marks: [{ kind: 'circle', at: [196, 104], r: 15 }] },
  'donor.guard_to_sprocket': { base: 'side', marks: [{ kind: 'circle', at: [196, 104], r: 20 }] },
  'donor.load_front': { base: 'side', marks: [{ kind: 'scale', at: [52, 134] }] },
  'donor.load_rear': { base: 'side', marks: [{ kind: 'scale', at: [196, 134] }] },
  'donor.mass_wet': { base: 'side', marks: [{ kind: 'scale', at: [52, 134] }, { kind: 'scale', at: [196, 134] }] },
  'donor.mass_rolling': { base: 'side', marks: [{ kind: 'scale', at: [52, 134] }, { kind: 'scale', at: [196, 134] }] },
  'donor.cog_height': { base: 'side', marks: [across(122, 78, 122, 134), { kind: 'circle', at: [122, 78], r: 4 }] },
  'donor.travel_rear': { base: 'side', marks: [across(214, 60, 214, 104)] },
  'donor.travel_front': { base: 'side', marks: [across(66, 62, 58, 90)] },
  'donor.tunnel_length': { base: 'side', marks: [across(90, 44, 146, 44)] },
  'donor.tunnel_height': { base: 'side', marks: [across(116, 32, 116, 50)] },
  'donor.axle_slot': { base: 'side', marks: [across(196, 99, 196, 109)] },
  'gearing.adjuster_range': { base: 'side', marks: [across(190, 104, 204, 104)] },
  'gearing.centre_distance': { base: 'side', marks: [across(132, 92, 196, 104, -16)] },
  'tyre_rear.circumference': { base: 'side', marks: [across(160, 134, 228, 134), { kind: 'turn', at: [196, 104], r: 24, a: 200, b: 520 }] },
  'donor.bay_width': { base: 'above', marks: [across(96, 54, 96, 96)] },
  'donor.side_left': { base: 'above', marks: [across(112, 75, 112, 38)] },
  'donor.side_right': { base: 'above', marks: [across(112, 75, 112, 112)] },
  'donor.knee_width': { base: 'above', marks: [across(128, 44, 128, 106)] },
  'donor.tunnel_width': { base: 'above', marks: [across(84, 58, 84, 92)] },
  'donor.chainline': { base: 'above', marks: [across(198, 75, 198, 54)] },
  'donor.swingarm_width_at_chain': { base: 'above', marks: [across(172, 50, 172, 100)] },
  'donor.dropout_width': { base: 'above', marks: [across(206, 60, 206, 90)] },
  'layout.motor_face_to_chainline': { base: 'above', marks: [across(120, 66, 120, 54)] },
  'donor.hub_bolt_circle': { base: 'hub', marks: [{ kind: 'circle', at: [120, 75], r: 38 }, across(82, 75, 158, 75)] },
  'donor.hub_bore': { base: 'hub', marks: [across(102, 75, 138, 75)] },
  'donor.hub_bolt': { base: 'hub', marks: [across(115, 37, 125, 37, -8)] },
  'donor.hub_bolts': { base: 'hub', marks: [{ kind: 'circle', at: [120, 75], r: 38 }] },
  'donor.hub_offset': { base: 'ends', marks: [across(118, 44, 138, 44)] },
  'motor.shaft_diameter': { base: 'ends', marks: [across(168, 65, 168, 85)] },
  'motor.length': { base: 'ends', marks: [across(40, 118, 118, 118)] },
  'motor.diameter': { base: 'ends', marks: [across(32, 40, 32, 110)] },
}

export const hasPicture = (path: string): boolean => path in figures

function Arrowed({ mark }: { mark: Extract<Mark, { kind: 'across' }> }) {
  const [x1, y1] = mark.from
  const [x2, y2] = mark.to
  const length = Math.hypot(x2 - x1, y2 - y1) || 1
  const [ux, uy] = [(x2 - x1) / length, (y2 - y1) / length]
  const off = mark.drop ?? 0
  const [nx, ny] = [-uy * off, ux * off]
  const [ax, ay, bx, by] = [x1 + nx, y1 + ny, x2 + nx, y2 + ny]
  const head = (x: number, y: number, s: number) =>
    `M${x} ${y}l${s * ux * 5 - uy * 2.2} ${s * uy * 5 + ux * 2.2}M${x} ${y}l${s * ux * 5 + uy * 2.2} ${s * uy * 5 - ux * 2.2}`
  const end = (x: number, y: number) => `M${x - uy * 4} ${y + ux * 4}L${x + uy * 4} ${y - ux * 4}`
  return (
    <g class="h-mark">
      {off !== 0 && <path class="h-thin" d={`M${x1} ${y1}L${ax} ${ay}M${x2} ${y2}L${bx} ${by}`} />}
      <path d={`M${ax} ${ay}L${bx} ${by}${length > 14 ? head(ax, ay, 1) + head(bx, by, -1) : ''}${end(ax, ay)}${end(bx, by)}`} />
    </g>
  )
}

function Turn({ mark }: { mark: Extract<Mark, { kind: 'turn' }> }) {
  const point = (deg: number) => {
    const rad = (deg * Math.PI) / 180
    return `${mark.at[0] + mark.r * Math.cos(rad)} ${mark.at[1] + mark.r * Math.sin(rad)}`
  }
  return <path class="h-mark" d={`M${point(mark.a)}A${mark.r} ${mark.r} 0 1 1 ${point(mark.b - 40)}`} />
}

function BaseDrawing({ base }: { base: Base }) {
  if (base === 'side') {
    return (
      <g class="h-base">
        <path class="h-thin" d="M8 134H244" />
        <circle cx="52" cy="104" r="30" />
        <circle cx="196" cy="104" r="30" />
        <circle cx="52" cy="104" r="2" />
        <circle cx="196" cy="104" r="2" />
        <path d="M52 104L76 46M70 40L84 36" />
        <path d="M78 50L90 98H142L146 96L140 50L78 50" />
        <path d="M88 50C92 30 132 26 142 48L200 40" />
        <path d="M146 96L196 104M142 92L200 100" />
        <circle cx="146" cy="96" r="3" />
        <circle cx="132" cy="92" r="5" />
        <circle cx="196" cy="104" r="12" />
      </g>
    )
  }
  if (base === 'above') {
    return (
      <g class="h-base">
        <path class="h-thin h-dash" d="M6 75H244" />
        <rect x="8" y="68" width="52" height="14" rx="7" />
        <rect x="164" y="64" width="74" height="22" rx="10" />
        <path d="M66 75L86 54H122V96H86Z" />
        <path d="M118 50H204V58H130V92H204V100H118Z" />
        <path class="h-thin" d="M112 38H150M112 112H150" />
        <path d="M188 54H212M124 54H134" class="h-heavy" />
        <path class="h-thin" d="M124 54H212" />
      </g>
    )
  }
  if (base === 'hub') {
    const bolts = [0, 1, 2, 3, 4].map((i) => {
      const a = (-90 + i * 72) * (Math.PI / 180)
      return <circle key={i} cx={120 + 38 * Math.cos(a)} cy={75 + 38 * Math.sin(a)} r="5" />
    })
    return (
      <g class="h-base">
        <circle cx="120" cy="75" r="58" />
        <circle cx="120" cy="75" r="18" />
        <circle cx="120" cy="75" r="6" />
        {bolts}
      </g>
    )
  }
  return (
    <g class="h-base">
      <rect x="40" y="40" width="78" height="70" />
      <rect x="118" y="52" width="20" height="46" />
      <rect x="138" y="65" width="50" height="20" />
      <path class="h-thin h-dash" d="M24 75H204" />
    </g>
  )
}

/// The small drawing for a figure; none where words are enough.
export function Picture({ path }: { path: string }) {
  const figure = figures[path]
  if (!figure) return null
  return (
    <svg class="howto" viewBox="0 0 250 150" role="img" aria-label="where to measure">
      <BaseDrawing base={figure.base} />
      {figure.marks.map((mark, i) =>
        mark.kind === 'across' ? (
          <Arrowed key={i} mark={mark} />
        ) : mark.kind === 'circle' ? (
          <circle key={i} class="h-mark" cx={mark.at[0]} cy={mark.at[1]} r={mark.r} />
        ) : mark.kind === 'scale' ? (
          <path key={i} class="h-mark" d={`M${mark.at[0] - 22} ${mark.at[1]}h44v8h-44zM${mark.at[0] - 5} ${mark.at[1] + 8}l5 -6l5 6`} />
        ) : (
          <Turn key={i} mark={mark} />
        ),
      )}
    </svg>
  )
}
