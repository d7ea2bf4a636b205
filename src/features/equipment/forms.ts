import { z } from 'zod'
import { parseTimeOfDay } from '../../core/day/time-of-day.ts'
import { gauges, jarSizes } from '../../core/process/index.ts'
import { type EquipmentKind, equipmentKinds } from '../../core/produce/vocabulary.ts'
import { mmPerInch, parseVolume, type UnitSystem } from '../../core/units/index.ts'
import { fieldReader } from '../../web/field-reader.ts'
import {
  checkbox,
  choice,
  neededText,
  optionalWholeNumber,
  type ReadForm,
  read,
  readForm,
  type Typed,
  wholeNumber,
} from '../../web/forms.ts'
import { ALONE_IN, lengthOf } from '../../web/lengths.ts'
import { typedTime, typedVolume } from '../../web/typed.ts'
import { type Holds, MOST_JARS } from './holds.ts'
import type { EquipmentValues } from './queries.ts'

export const MOST_MACHINES = 99
/** 20,000 litres is a cold store. */
export const MOST_ROOM_ML = 20_000_000
/** Less holds no jar, more stands in a factory. */
export const LEAST_INSIDE_MM = 80
export const MOST_INSIDE_MM = 1_000

/** Longer is a wrong entry: no canner of a kitchen heats or cools for more than four hours (common practice, no source). */
export const MOST_HEATING_MINUTES = 240
export const MOST_BURNERS = 12

/** The kinds in which closed jars are heated. */
export const cannerKinds: readonly EquipmentKind[] = ['canner', 'pressure-canner', 'steam-canner']
/** What a bare number is among the inside measures. */
export const insideUnit = { metric: 'cm', us: 'in' } as const satisfies Record<UnitSystem, string>
const noGauge = 'none'

/** @param alone in whose units bare numbers are inside measures */
export const equipmentForm = (alone: UnitSystem) =>
  z.object({
    kind: choice(equipmentKinds, 'Choose what kind it is'),
    name: neededText('Enter a name, like “chest freezer in the annex”', 80),
    count: wholeNumber(`Enter how many there are, from 1 to ${MOST_MACHINES}`, 1, MOST_MACHINES),
    roomMl: read<number | null>((typed) => {
      if (typed === '') return { value: null }
      const volume = parseVolume(/^[\d.,]+$/.test(typed) ? `${typed} l` : typed)
      return volume.ok && volume.ml >= 1 && volume.ml <= MOST_ROOM_ML
        ? { value: Math.round(volume.ml) }
        : { problem: 'Enter the room in litres, like 180' }
    }),
    aroundTheClock: checkbox(),
    gauge: read<EquipmentValues['gauge']>((typed) => {
      if (typed === '' || typed === noGauge) return { value: null }
      const gauge = gauges.find((one) => one === typed)
      return gauge === undefined ? { problem: 'Choose which gauge it has' } : { value: gauge }
    }),
    insideWidthMm: inside('the inside width', alone),
    insideHeightMm: inside('the inside height', alone),
    comeUpMinutes: heating('it takes to come up', 1),
    coolDownMinutes: heating('it takes to cool down', 0),
    burners: optionalWholeNumber(`Enter burners from 0 to ${MOST_BURNERS}, or leave it empty`, 0, MOST_BURNERS),
    fromMinute: optionalTime('Enter from when, like 9:30 or 9 am'),
    toMinute: optionalTime('Enter until when, like 16:00 or 4 pm'),
  })

/** Reads the form and its row of jars, `holds.quart` and its like; an empty size is left out. */
export function readEquipmentForm(typed: Typed, alone: UnitSystem): ReadForm<EquipmentValues> {
  const form = readForm(equipmentForm(alone), typed)
  const reader = fieldReader(typed)
  const jars = optionalWholeNumber(`Enter jars from 1 to ${MOST_JARS}, or leave it empty`, 1, MOST_JARS)
  const holds: Holds = {}
  for (const size of jarSizes) {
    const many = reader.get(`holds.${size}`, jars, null)
    if (many !== null) holds[size] = many
  }
  const errors = { ...form.errors, ...reader.errors }
  return form.ok && Object.keys(errors).length === 0
    ? { ...form, values: { ...form.values, holds } }
    : { ok: false, typed, errors }
}

function optionalTime(problem: string) {
  return read<number | null>((typed) => {
    if (typed === '') return { value: null }
    const minute = parseTimeOfDay(typed)
    return minute === null ? { problem } : { value: minute }
  }, 20)
}

function heating(what: string, least: number) {
  const problem = `Enter the minutes ${what}, from ${least} to ${MOST_HEATING_MINUTES}, or leave it empty`
  return optionalWholeNumber(problem, least, MOST_HEATING_MINUTES)
}

function inside(what: string, alone: UnitSystem) {
  return read<number | null>((typed) => {
    if (typed === '') return { value: null }
    const length = lengthOf(typed, insideUnit[alone])
    const mm = length.ok ? Math.round(length.metres * 1000) : Number.NaN
    return mm >= LEAST_INSIDE_MM && mm <= MOST_INSIDE_MM
      ? { value: mm }
      : { problem: `Enter ${what} in centimetres or inches, like “30 cm” or “12 in”` }
  }, 40)
}

/** What is wrong between the fields, in words by field. */
export function equipmentProblems(values: EquipmentValues): Record<string, string> {
  const { kind, roomMl, gauge, insideWidthMm, insideHeightMm } = values
  const problems: Record<string, string> = {}
  if (kind === 'freezer' && roomMl === null) problems['roomMl'] = 'Enter the room of the freezer in litres, like 180'
  if (kind !== 'freezer' && roomMl !== null) problems['roomMl'] = 'Leave the room empty: only a freezer has one'
  if (kind === 'pressure-canner' && gauge === null)
    problems['gauge'] = 'Choose which gauge it has: pressures differ between a dial and a weight'
  if (kind !== 'pressure-canner' && gauge !== null)
    problems['gauge'] = 'Choose “none”: only a pressure canner has a gauge'
  if (!cannerKinds.includes(kind)) {
    const words = 'Leave it empty: inside measures are asked for canners only'
    if (insideWidthMm !== null) problems['insideWidthMm'] = words
    if (insideHeightMm !== null) problems['insideHeightMm'] = words
    for (const name of ['comeUpMinutes', 'coolDownMinutes', 'burners'] as const)
      if (values[name] !== null) problems[name] = 'Leave it empty: it is asked for canners only'
    for (const size of Object.keys(values.holds)) problems[`holds.${size}`] = 'Leave it empty: only a canner takes jars'
  }
  const { fromMinute, toMinute } = values
  if (fromMinute === null && toMinute !== null) problems['fromMinute'] = 'Enter from when, like 9:30 or 9 am'
  if (fromMinute !== null && toMinute === null) problems['toMinute'] = 'Enter until when, like 16:00 or 4 pm'
  if (fromMinute !== null && toMinute !== null && fromMinute >= toMinute)
    problems['toMinute'] = 'Enter an end that is later than the beginning'
  return problems
}

/** The form's fields as they would be typed for this equipment by somebody who reads these units. */
export function equipmentTyped(equipment: EquipmentValues & { version: number }, reads: UnitSystem): Typed {
  const { kind, name, count, roomMl, aroundTheClock, gauge, insideWidthMm, insideHeightMm, version } = equipment
  return {
    kind,
    name,
    count: String(count),
    roomMl: roomMl === null ? '' : typedVolume(roomMl),
    ...(aroundTheClock ? { aroundTheClock: 'yes' } : {}),
    // nothing is chosen for a pressure canner whose gauge nobody has noted
    gauge: gauge ?? (kind === 'pressure-canner' ? '' : noGauge),
    insideWidthMm: typedInside(insideWidthMm, reads),
    insideHeightMm: typedInside(insideHeightMm, reads),
    ...Object.fromEntries(Object.entries(equipment.holds).map(([size, many]) => [`holds.${size}`, String(many)])),
    comeUpMinutes: typedWhole(equipment.comeUpMinutes),
    coolDownMinutes: typedWhole(equipment.coolDownMinutes),
    burners: typedWhole(equipment.burners),
    fromMinute: equipment.fromMinute === null ? '' : typedTime(equipment.fromMinute),
    toMinute: equipment.toMinute === null ? '' : typedTime(equipment.toMinute),
    [ALONE_IN]: reads,
    version: String(version),
  }
}

function typedWhole(value: number | null): string {
  return value === null ? '' : String(value)
}

/** What an empty form begins with. */
export function newEquipmentTyped(reads: UnitSystem): Typed {
  return { count: '1', gauge: noGauge, [ALONE_IN]: reads }
}

/** "30.5 cm", "12 in": reading it again gives the same whole millimetres. */
function typedInside(mm: number | null, units: UnitSystem): string {
  if (mm === null) return ''
  if (units === 'metric') return `${mm / 10} cm`
  const eighths = Math.round((mm / mmPerInch) * 8) / 8
  return `${Math.round(eighths * mmPerInch) === mm ? eighths : Number((mm / mmPerInch).toFixed(2))} in`
}
