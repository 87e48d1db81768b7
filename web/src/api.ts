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
  key: "donor" | "wishes" | "choose" | "parts" | "fit" | "road" | "list" | "wiring" | "steps"
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

export type PrintName = {
  key: string
  title: string
  pages: number
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

export type OpenPlace = {
  key: string
  label: string
  now: string
  state: "none" | "thought_of" | "ordered" | "here"
  open: boolean
  options: number
  own: number
}

export type Yardstick = {
  key: string
  label: string
  brief: string
  unit: string
  step: number
  more_is_better: boolean
  traded: boolean
  wish: string
  weight: number
}

export type SearchOffer = {
  places: OpenPlace[]
  yardsticks: Yardstick[]
  caution: string
}

export type SearchMust = {
  quantity: "money" | "distance" | "punch" | "top_speed" | "mass" | "weeks" | "hold_speed" | "hill_grade" | "time_0_100"
  text: string
}

export type SearchWant = {
  quantity: "money" | "distance" | "punch" | "top_speed" | "mass" | "weeks"
  weight: number
}

export type SearchAsk = {
  base: number
  open: string[]
  without: string[]
  musts: SearchMust[]
  wants: SearchWant[]
  own_first: boolean
  seconds: number
}

export type SearchMoved = {
  search: number
  musts: SearchMust[]
  wants: SearchWant[]
}

export type SearchTake = {
  search: number
  pick: number
  name: string
}

export type SearchWhy = {
  search: number
  shelf: "motor" | "controller" | "cell" | "chain"
  part: string
}

export type SearchCounts = {
  combinations: number
  considered: number
  fit: number
  ridden: number
  through: number
  within: number
  worth: number
}

export type SearchSpan = {
  quantity: string
  low: number
  high: number
}

export type SearchPoint = {
  pick: number
  at: (number | null)[]
}

export type PickNumber = {
  quantity: string
  label: string
  text: string
  value: number | null
  met: "met" | "short" | "unknown" | "none"
}

export type PickPart = {
  place: string
  label: string
  from: "own" | "sketch" | "sheet"
  text: string
  figures: string
  check: string
  id: string
}

export type Pick = {
  pick: number
  title: string
  parts: PickPart[]
  numbers: PickNumber[]
  why: string[]
  gives_up: string[]
  settle: string[]
  cautions: string[]
  holds: string
}

export type GiveStep = {
  quantity: string
  label: string
  wished: string
  instead: string
  by: string
}

export type GiveWay = {
  steps: GiveStep[]
  numbers: PickNumber[]
  pick: number
}

export type OpenOption = {
  option: string
  differs: string
}

export type OpenDecision = {
  place: string
  label: string
  says: "guess" | "think"
  text: string
  fit: number
  options: OpenOption[]
}

export type WorthKnowing = {
  path: string
  what: string
  worth: string
  between: string
  how: string
}

export type Fell = {
  count: number
  what: string
  of: "rule" | "wish" | "last"
}

export type SearchFound = {
  musts: SearchMust[]
  bounds: (number | null)[]
  lack: string
  within: number
  worth: number
  list: Pick[]
  gives_way: GiveWay[]
  decisions: OpenDecision[]
  measuring: WorthKnowing[]
  measuring_all: string
}

export type SearchState = {
  build: number
  search: number
  revision: number
  stale: boolean
  phase: "none" | "waiting" | "riding" | "weighing" | "done"
  pass: string
  ended: "" | "stopped" | "time" | "full" | "failed"
  share: number
  seconds: number
  limit: number
  answers: number
  open: string[]
  without: string[]
  wants: SearchWant[]
  own_first: boolean
  counts: SearchCounts
  spans: SearchSpan[]
  points: SearchPoint[]
  found: SearchFound
  fell: Fell[]
  caution: string
}

export type SearchEvent = {
  build: number
  search: number
  answers: number
  phase: "none" | "waiting" | "riding" | "weighing" | "done"
  share: number
  seconds: number
  counts: SearchCounts
}

export type WhyNot = {
  says: string
  fell: Fell[]
  gives_way: GiveWay[]
  numbers: PickNumber[]
  ended_early: boolean
}

export type ClaimAsk = {
  text: string
}

export type ClaimTerm = {
  says: string
  plausible: string
  would_need: string
  then_rather: string
  share: number
}

export type DonorRow = {
  words: string
  pack: string
  room_needed: string
  room: string
  laden: string
  plate: string
  says: string
  own: boolean
  carries: boolean
}

export type Piece = {
  sort: "heading" | "small heading" | "table" | "line" | "caution"
  mark: string
  text: string
  right: string
  rows: string[][]
}

export type Wiring = {
  circuit: Piece[]
  settings: Piece[]
}

export type StepBranch = {
  look: string
  means: string
}

export type Step = {
  id: string
  title: string
  doing: string
  tool: string
  caution: string
  band: string
  sum: string
  bounds: string
  live: string
  verdict: "open" | "waiting" | "stopped" | "within" | "doubtful" | "outside" | "unreadable" | "unjudged"
  standing: string
  learns: string
  tick: boolean
  from_sheet: boolean
  next: boolean
  readings: string[]
  held_by: string[]
  missing: Asked[]
  tree: StepBranch[]
}

export type StepStage = {
  key: string
  title: string
  steps: Step[]
}

export type WireAsBuilt = {
  label: string
  from: string
  to: string
  reach: string
  laid: boolean
}

export type Steps = {
  stages: StepStage[]
  wires: WireAsBuilt[]
  cells: Piece[]
  live: Piece[]
  cells_text: string
  strangers: string[]
}

export type StepDone = {
  base: number
  step: string
  reading: string
  instrument: string
  note: string
}

export type WireLaid = {
  base: number
  label: string
  laid: boolean
  colour: string
  length: string
  section: string
  torque: string
  lug_from: string
  lug_to: string
  note: string
}

export type CellsCame = {
  base: number
  text: string
}

export type Lesson = {
  count: number
  pieces: Piece[]
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
