import { z } from 'zod'
import { equipmentKinds } from '../../core/produce/vocabulary.ts'
import { parseVolume } from '../../core/units/index.ts'
import { checkbox, choice, neededText, read, type Typed, wholeNumber } from '../../web/forms.ts'
import { typedVolume } from '../../web/typed.ts'
import type { EquipmentValues } from './queries.ts'

export const MOST_MACHINES = 99
/** 20,000 litres is a cold store. */
export const MOST_ROOM_ML = 20_000_000

export const equipmentForm = z.object({
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
})

/** What is wrong between the fields, in words by field. */
export function equipmentProblems({ kind, roomMl }: EquipmentValues): Record<string, string> {
  if (kind === 'freezer' && roomMl === null) return { roomMl: 'Enter the room of the freezer in litres, like 180' }
  if (kind !== 'freezer' && roomMl !== null) return { roomMl: 'Leave the room empty: only a freezer has one' }
  return {}
}

/** The form's fields as they would be typed for this equipment. */
export function equipmentTyped(equipment: EquipmentValues & { version: number }): Typed {
  const { kind, name, count, roomMl, aroundTheClock, version } = equipment
  return {
    kind,
    name,
    count: String(count),
    roomMl: roomMl === null ? '' : typedVolume(roomMl),
    ...(aroundTheClock ? { aroundTheClock: 'yes' } : {}),
    version: String(version),
  }
}
