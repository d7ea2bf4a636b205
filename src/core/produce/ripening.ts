import type { Crop, StorageLife } from './crop.ts'
import type { RipenessClass, Storage } from './vocabulary.ts'

/** Degrees Celsius of the three places in which a lot may wait: our convention, typical of each place. */
export const storageTempC: Readonly<Record<Storage, number>> = { room: 20, cool: 12, cold: 2 }

/** Of the life of ripe produce the first three fifths count as ripe, the rest as soft: common practice, no published figure. */
export const ripePart = 0.6
/** Damaged produce keeps half as long as soft produce: common practice ("use within a day"), no published figure. */
export const damagedPart = 0.5
/** Firm produce that does not ripen after picking counts as firm for at most so many household lives: our convention. */
export const firmLives = 2

/**
 * How many days produce stays in each class at the temperature of a storage; all above 0.
 *
 * Method. A life at one temperature becomes a life at another by Q10: life(T) = life(T0) * Q10^((T0 - T) / 10), the
 * crop's Q10 being that of its respiration. A range of days counts with its middle.
 * - Once ripe: the `household` life. Where it is published at two temperatures, those two say how it changes between
 *   and beyond them, instead of the Q10. Its first part (`ripePart`) is ripe, the rest soft.
 * - Firm, where it ripens off the plant: the `ripening` time at room temperature, which grows towards the cold by the
 *   crop's Q10, but no faster than what the `cold-store` life leaves before ripe allows.
 * - Firm, where it does not: what the `cold-store` life leaves before ripe, but no more than `firmLives` household lives,
 *   since a house has no humid cold store. In both cases at least a quarter of the ripe time, so that no class is skipped.
 * - Damaged: `damagedPart` of soft.
 * - Sensitive to chilling (tomato, cucumber, pepper, squash): below the crop's limit more cold buys no more days. A
 *   colder place counts as the limit, and a life that was published for a colder place as the life at the limit.
 *   That more cold does harm (mealy tomatoes, pitted cucumbers) is said by `chills`, not counted.
 * - A colder place never keeps shorter: where roundings of the above would make it so, the warmer place's days stand.
 *
 * An estimate for planning, to be corrected by sorting again; it says nothing about whether food may still be eaten.
 */
export function dwellDays(crop: Crop, storage: Storage): Record<RipenessClass, number> {
  const warmerFirst: Storage[] = ['room', 'cool', 'cold']
  let days = dwellAt(crop, storageTempC.room)
  for (const place of warmerFirst.slice(1, warmerFirst.indexOf(storage) + 1)) {
    const colder = dwellAt(crop, storageTempC[place])
    days = {
      firm: Math.max(days.firm, colder.firm),
      ripe: Math.max(days.ripe, colder.ripe),
      soft: Math.max(days.soft, colder.soft),
      damaged: Math.max(days.damaged, colder.damaged),
    }
  }
  return days
}

/** Whether this storage is colder than the crop bears without harm. */
export function chills(crop: Crop, storage: Storage): boolean {
  return crop.chillsBelowC !== null && storageTempC[storage] < crop.chillsBelowC.value
}

function dwellAt(crop: Crop, tempC: number): Record<RipenessClass, number> {
  const usable = householdLife(crop, tempC)
  const ripe = usable * ripePart
  const soft = usable - ripe
  return { firm: firmLife(crop, tempC, usable, ripe), ripe, soft, damaged: soft * damagedPart }
}

function householdLife(crop: Crop, tempC: number): number {
  const rows = crop.storageLives.filter((life) => life.basis === 'household')
  const coldest = rows.reduce((a, b) => (b.tempC < a.tempC ? b : a), rowOf(crop, 'household'))
  const warmest = rows.reduce((a, b) => (b.tempC > a.tempC ? b : a), coldest)
  const apart = effective(crop, warmest.tempC) - effective(crop, coldest.tempC)
  const q10 = apart > 0 ? (middle(coldest) / middle(warmest)) ** (10 / apart) : crop.q10.value
  return carried(crop, coldest, tempC, q10)
}

function firmLife(crop: Crop, tempC: number, usable: number, ripe: number): number {
  const store = rowOf(crop, 'cold-store')
  const ripening = crop.storageLives.find((life) => life.basis === 'ripening')
  if (ripening === undefined) {
    const left = carried(crop, store, tempC, crop.q10.value) - ripe
    return Math.max(ripe / 4, Math.min(left, firmLives * usable))
  }
  const firmInStore = middle(store) - householdLife(crop, store.tempC) * ripePart
  const apart = effective(crop, ripening.tempC) - effective(crop, store.tempC)
  const between = (Math.max(firmInStore, middle(ripening)) / middle(ripening)) ** (10 / apart)
  return Math.max(ripe / 4, carried(crop, ripening, tempC, Math.min(between, crop.q10.value)))
}

/** The middle of a published life, carried to another temperature. */
function carried(crop: Crop, life: StorageLife, tempC: number, q10: number): number {
  return middle(life) * q10 ** ((effective(crop, life.tempC) - effective(crop, tempC)) / 10)
}

function effective(crop: Crop, tempC: number): number {
  return crop.chillsBelowC === null ? tempC : Math.max(tempC, crop.chillsBelowC.value)
}

function middle(life: StorageLife): number {
  return (life.days[0] + life.days[1]) / 2
}

function rowOf(crop: Crop, basis: StorageLife['basis']): StorageLife {
  const row = crop.storageLives.find((life) => life.basis === basis)
  if (row === undefined) throw new Error(`${crop.key} has no ${basis} life`)
  return row
}
