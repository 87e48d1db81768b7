// SPDX-License-Identifier: MIT
// What was typed, made whole: a bare number takes the unit that stands beside the field, a decimal
// comma becomes a point. The program reads it and says what it read.
import type { Field, Schema } from './api'

const number = String.raw`[+\-−]?\d+(?:[.,]\d+)?(?:\s*\/\s*\d+)?`
const bare = new RegExp(`^(${number})$`)
const spread = new RegExp(`^(${number})\\s*(?:\\+-|±|\\+\\/-)\\s*(${number})$`)
const tail = new RegExp(`^${number}\\s*([^\\d\\s+±.,/].*?)(?:\\s*(?:\\+-|±).*)?$`)

const unitIn = (text: string | undefined): string => tail.exec(text ?? '')?.[1]?.trim() ?? ''

/// Time is told in many units; these are the ones a builder thinks in.
const timeUnits: Record<string, string> = {
  'wishes.time': 'h',
  'wishes.months': 'months',
  'wishes.charge_time': 'h',
  'surroundings.storage_time': 'months',
  'surroundings.years': 'years',
  lead_time: 'weeks',
  return_window: 'days',
  age: 'years',
}
const kindUnits: Record<string, string> = {
  resistance: 'mohm',
  inductance: 'uH',
  capacitance: 'uF',
  charge: 'Ah',
  time: 's',
  energy: 'J',
}

/// The unit that stands beside a field: that of its limits where they agree, else what is usual.
export function unitOf(field: Field, schema: Schema | null, now = ''): string {
  if (field.type !== 'figure') return ''
  const typed = unitIn(now)
  if (typed && !typed.includes(' dc') && !typed.includes(' rms')) return typed
  // What stands there as a bare number, 0.4, is not read as 0.4 % when it becomes 0.5.
  if (bare.test(now.trim())) return ''
  if (field.kind === 'time') return timeUnits[field.path] ?? timeUnits[field.key] ?? 's'
  const [low, high] = [unitIn(field.low), unitIn(field.high)]
  if (low && low === high) return high
  if (field.kind === 'length' && low && high) return low === 'mm' ? 'm' : low
  if (kindUnits[field.kind]) return kindUnits[field.kind]!
  return high || (schema?.units.find((u) => u.kind === field.kind)?.shown ?? '')
}

const shown: Record<string, string> = {
  degC: '°C',
  degF: '°F',
  m2: 'm²',
  mm2: 'mm²',
  ft2: 'ft²',
  ohm: 'Ω',
  mohm: 'mΩ',
  uohm: 'µΩ',
  kohm: 'kΩ',
  Mohm: 'MΩ',
  uH: 'µH',
  uF: 'µF',
  'kg m2': 'kg m²',
}

/// A unit as it is written by hand.
export const written = (unit: string): string => shown[unit] ?? unit

export function whole(text: string, unit: string): string {
  const trimmed = text.trim().replace(/^([+\-−]?\d+),(\d{1,2})(?!\d)/, '$1.$2').replace('−', '-')
  if (!unit) return trimmed
  const one = bare.exec(trimmed)
  if (one) return `${one[1]} ${unit}`
  const two = spread.exec(trimmed)
  if (two) return `${two[1]} ${unit} +- ${two[2]} ${unit}`
  return trimmed
}
