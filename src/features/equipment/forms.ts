import { z } from 'zod'
import { gauges } from '../../core/process/index.ts'
import { type EquipmentKind, equipmentKinds } from '../../core/produce/vocabulary.ts'
import { mmPerInch, parseVolume, type UnitSystem } from '../../core/units/index.ts'
import { checkbox, choice, neededText, read, type Typed, wholeNumber } from '../../web/forms.ts'
import { ALONE_IN, lengthOf } from '../../web/lengths.ts'
import { typedVolume } from '../../web/typed.ts'
import type { EquipmentValues } from './queries.ts'

export const MOST_MACHINES = 99
/** 20,000 litres is a cold store. */
export const MOST_ROOM_ML = 20_000_000
/** Less holds no jar, more stands in a factory. */
export const LEAST_INSIDE_MM = 80
export const MOST_INSIDE_MM = 1_000

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
  })

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
  }
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
    [ALONE_IN]: reads,
    version: String(version),
  }
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
