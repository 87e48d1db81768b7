// SPDX-License-Identifier: MIT
// What the page and the program say to each other: docs/api.md. Written by `typegen` from
// serve/api.h; do not edit.

export type Problem = {
  code: string
  what: string
  field?: string
  found?: string
  expected?: string
  way_out?: string
  file?: string
  line?: number
  column?: number
}

export type Refused = {
  problems: Problem[]
}

export type Word = {
  word: string
  label: string
}

export type Field = {
  path: string
  key: string
  label: string
  type: "figure" | "count" | "choice" | "set" | "text"
  kind: string
  low?: string
  high?: string
  options: Word[]
  how: string
  prior?: string
  prior_source?: string
}

export type Slot = {
  key: string
  label: string
  optional: boolean
  is_part: boolean
  shelf: string
  fields: Field[]
}

export type UnitKind = {
  kind: string
  spellings: string[]
  shown: string
}

export type Stage = {
  key: "donor" | "wishes" | "parts" | "fit" | "road" | "list"
  title: string
  question: string
  slots: string[]
}

export type Schema = {
  slots: Slot[]
  units: UnitKind[]
  evidence: Word[]
  stages: Stage[]
  systems: string[]
}

export type EditChange = {
  path: string
  text: string
  evidence?: string
  note?: string
}

export type Edit = {
  base: number
  changes: EditChange[]
  what: string
}

export type Change = {
  path: string
  label: string
  from: string
  to: string
}

export type Value = {
  text: string
  shown: string
  si?: number
  evidence: string
  note: string
  date: string
  from: "sheet" | "part" | "assumed" | "sketched"
  source?: string
}

export type BigFigure = {
  key: string
  label: string
  count_on: string
  likely: string
  good_day: string
  wish: string
  met: "met" | "short" | "unknown" | "none"
  by: string
  also: string
}

export type Assumption = {
  path: string
  label: string
  text: string
  from: string
  low: string
  high: string
  how: string
}

export type Job = {
  title: string
  how: string
  path: string
  minutes: number
  because: string
}

export type MovedBy = {
  path: string
  label: string
  share: number
  low: string
  high: string
  from: string
}

export type Answer = {
  key: string
  label: string
  count_on: string
  likely: string
  good_day: string
  p10: number | null
  p50: number | null
  p90: number | null
  unit: string
  more_is_better: boolean
  main: boolean
  wish: string
  met: "met" | "short" | "unknown" | "none"
  by: string
  moved_by: MovedBy[]
}

export type Asked = {
  path: string
  label: string
  how: string
}

export type WayOut = {
  text: string
  changes: EditChange[]
  becomes: string
  also: string[]
}

export type Ignoring = {
  text: string
  cost: string
  weeks: number
}

export type Known = {
  why: string
  when: string
  still: boolean
}

export type Finding = {
  rule: string
  title: string
  says: "clash" | "unmeasured" | "tight" | "fits"
  between: string[]
  because: string
  have: string
  limit: string
  half_width: string
  blocks: string
  missing: Asked[]
  weak: Asked[]
  ignoring: Ignoring
  ways_out: WayOut[]
  source: string
  known: Known | null
}

export type DriveFigure = {
  key: string
  label: string
  text: string
}

export type Counts = {
  clash: number
  unmeasured: number
  tight: number
  fits: number
}

export type StageState = {
  key: string
  open: string[]
}

export type State = {
  build: number
  name: string
  revision: number
  can_undo: boolean
  can_redo: boolean
  undo_what: string
  redo_what: string
  saved_at: string
  units: "metric" | "imperial"
  ready: "first" | "full"
  values: { [path: string]: Value }
  slots_present: string[]
  four: BigFigure[]
  blunt: string
  sketched: string[]
  assumptions: Assumption[]
  next: Job | null
  answers: Answer[]
  possible: boolean
  parts_missing: string[]
  missing: string[]
  notices: string[]
  findings: Finding[]
  counts: Counts
  stages: StageState[]
  gearing: DriveFigure[]
  caution: string
}

export type Stale = {
  stale: true
  changed: Change[]
  yours: EditChange[]
  same_fields: boolean
  now: State
}

export type GarageBuild = {
  id: number
  name: string
  changed: string
  archived: boolean
  from: number | null
}

export type Demo = {
  name: string
  title: string
}

export type Garage = {
  builds: GarageBuild[]
  notices: string[]
  demos: Demo[]
  classes: Word[]
  units: string
  lan: string
  version: string
}

export type NewBuild = {
  name: string
  where: "dreaming" | "parts_in_mind" | "bike_in_bits" | "riding"
  demo?: string
  entries?: EditChange[]
}

export type Base = {
  base: number
}

export type Name = {
  name: string
}

export type Archived = {
  archived: boolean
}

export type Import = {
  name: string
  text: string
}

export type KnownSaid = {
  rule: string
  why: string
}

export type Units = {
  units: "metric" | "imperial"
}

export type FindingChange = {
  rule: string
  title: string
  from: string
  to: string
}

export type Preview = {
  four: BigFigure[]
  answers: Answer[]
  findings_changed: FindingChange[]
  gearing: DriveFigure[]
  counts: Counts
}

export type Revision = {
  id: number
  when: string
  did: string
  what: string
  changes: Change[]
}

export type Differ = {
  path: string
  label: string
  a: string
  b: string
}

export type Compare = {
  a: State
  b: State
  differ: Differ[]
}

export type PlotName = {
  key: string
  title: string
}

export type PlotTable = {
  columns: string[]
  rows: string[][]
}

export type Plot = {
  key: string
  title: string
  says: string
  missing: string
  svg: string
  table: PlotTable
}

export type Line = {
  group: string
  what: string
  chosen: string
  quantity: string
  price: string
  half_width: string
  price_from: string
  evidence: string
  lead: string
  state: string
  missing: boolean
  waits_for: Asked[]
  clashes: string[]
  because: string
}

export type PartsList = {
  lines: Line[]
  small_parts: Line[]
  tools: Line[]
  total: string
  low: string
  high: string
  contingency: string
  priced: string
  currency: string
}

export type Measure = {
  path: string
  label: string
  how: string
  assumed: boolean
  decides: string[]
  unlocks: string[]
  blocks: string
  moves: string
  is_question: boolean
}

export type Explained = {
  text: string
}

export type ShelfPart = {
  id: string
  name: string
  own: boolean
  own_id: number
  facts: string[]
  says: "clash" | "unmeasured" | "tight" | "fits" | "none"
  why: string
  price: string
}

export type Correction = {
  key: string
  text: string
  evidence?: string
}

export type PasteAsk = {
  text: string
  kind?: string
  corrections?: Correction[]
}

export type PasteFigure = {
  path: string
  key: string
  label: string
  text: string
  words: string
  begin: number
  end: number
  sure: "sure" | "likely" | "ask"
  evidence: string
  why: string
}

export type PasteOption = {
  key: string
  label: string
  text: string
  meaning: string
}

export type PasteQuestion = {
  text: string
  begin: number
  end: number
  options: PasteOption[]
}

export type Paste = {
  kind: string
  kind_sure: string
  kind_words: string
  title: string
  link: string
  price: string
  freight: string
  date: string
  kinds_possible: string[]
  figures: PasteFigure[]
  flags: string[]
  questions: PasteQuestion[]
  message: string
  part_text: string
}

export type OwnPart = {
  id?: number
  base?: number
  shelf: string
  text: string
  from: string
  slug?: string
}

export type Entry = {
  id: number
  when: string
  text: string
  hours: number | null
  money: string
}

export type NewEntry = {
  text: string
  hours: number | null
  money: string
  day?: string
}

export type Photo = {
  id: number
  field: string
  caption: string
  when: string
  media: string
}

export type StateEvent = {
  build: number
  revision: number
  ready: "first" | "full"
}

export type Notice = {
  text: string
}

export type Pairing = {
  open: boolean
  code: string
  address: string
  svg: string
  seconds: number
  devices: number
}
