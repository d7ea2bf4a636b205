import { type Citation, memory, seen } from '../process/sources.ts'

export type Dryer = 'dehydrator' | 'oven'

/** One printed line: a crop, how it is cut, and how long it dries. */
export type DryingWay = {
  /** Crops' keys, or plain names where it is no crop of the list. */
  crops: readonly string[]
  kind: 'fruit' | 'vegetable'
  cut: string
  dryer: Dryer
  tempC: number
  hours: readonly [number, number]
  /** Steam over boiling water first, minutes; null: not printed. */
  steamMinutes: readonly [number, number] | null
  /** Boiling water first, minutes. */
  waterMinutes: readonly [number, number] | null
  /** Simmered in syrup first, minutes: sweeter and brighter. */
  syrupMinutes: number | null
  source: Citation
}

/** A chart of dried vegetables: months for which each keeps at 16 °C (60 °F) and 21 °C (70 °F), and its blanching. */
export type DriedVegetableLife = {
  crop: string
  at16C: readonly [number, number]
  at21C: readonly [number, number]
  /** Minutes in boiling water, or in steam, as this chart prints them; null: none. */
  waterMinutes: readonly [number, number] | null
  steamMinutes: readonly [number, number] | null
  source: Citation
}

const georgia = seen('georgia-drying')
const georgiaMemory = memory('georgia-drying')
const maker = seen('dryer-maker', undefined, 'shorter than handbooks print for the same cut')
const vegetableMaker = seen('dryer-maker', undefined, 'vegetable guide of another maker, 50 to 60 °C')
const dakota = seen('ndsu-drying', 'Drying vegetables, Table 1')
const tableCopy = seen('so-easy', 'drying vegetables', 'a web copy of the same table that North Dakota prints')
const tableMemory = memory('so-easy', 'drying vegetables', 'the same table that North Dakota prints')
const colorado = seen('colorado-drying', 'chart I')

const firmBerries = ['blueberry', 'cranberry', 'redcurrant', 'blackcurrant', 'gooseberry']
const cherries = ['cherry-sweet', 'cherry-sour']

/** Printed drying times at 57 to 60 °C, handbooks before makers. */
export const dryingWays: readonly DryingWay[] = [
  fruit(['apple'], 'peeled, cored, slices or rings of 3 mm', [6, 12], 60, georgia, [3, 5], 10),
  fruit(['banana'], 'slices of 3 to 6 mm', [8, 10], 60, georgia),
  fruit(
    firmBerries,
    'whole, dipped in boiling water for 15 to 30 seconds so that the skins crack',
    [24, 36],
    60,
    georgia,
  ),
  fruit(['strawberry', 'boysenberry'], 'whole or cut', [24, 36], 60, georgia),
  fruit(cherries, 'stoned', [24, 36], 60, { ...georgia, note: 'the syrup is for sour ones' }, null, 10),
  fruit(['citrus peel'], 'the outer 2 to 3 mm', [8, 12], 60, georgia),
  fruit(['fig'], 'whole or halved', [6, 12], 60, georgiaMemory),
  fruit(['grape'], 'seedless, whole, skins cracked', [12, 20], 60, georgiaMemory),
  fruit(['peach', 'nectarine'], 'halved, stoned', [36, 48], 60, georgiaMemory, [8, 8], 10),
  fruit(['pear'], 'peeled, cored, halved', [24, 36], 60, georgiaMemory, [6, 6], 10),
  fruit(['plum', 'damson'], 'halved, or whole with cracked skins', [24, 36], 60, georgiaMemory),
  fruit(['apple'], 'slices of 3 to 6 mm', [4, 9], 57, maker),
  fruit(['banana'], 'slices of 6 mm', [7, 12], 57, maker),
  fruit(['blueberry'], 'whole, skins cracked', [9, 17], 57, maker),
  fruit(cherries, 'stoned', [15, 23], 57, maker),
  fruit(['cranberry'], 'skins cracked', [10, 18], 57, maker),
  fruit(['fig'], 'halved', [8, 15], 57, maker),
  fruit(['grape'], 'whole or halved', [13, 21], 57, maker),
  fruit(['kiwi'], 'slices of 6 to 10 mm', [4, 6], 57, maker),
  fruit(['peach'], 'slices', [6, 10], 57, maker),
  fruit(['peach'], 'halves or quarters', [36, 48], 57, maker),
  fruit(['pear'], 'slices of 6 mm', [7, 13], 57, maker),
  fruit(['plum'], 'halves or quarters', [8, 15], 57, maker),
  {
    ...fruit(['apple'], 'slices of 3 mm, door propped open 5 to 10 cm, with a fan', [18, 24], 60, seen('sdsu-drying')),
    dryer: 'oven',
  },
  vegetable('asparagus', 'tips, large ones halved', [4, 6], [4, 5], [3.5, 4.5], dakota),
  vegetable('snap-bean', 'short pieces or strips', [8, 14], [2, 2.5], [2, 2], dakota),
  vegetable('beet', 'cooked, peeled, strips of 3 mm', [10, 12], null, null, dakota),
  vegetable('cabbage', 'strips of 3 mm', [10, 12], [2.5, 3], [1.5, 2], tableCopy),
  vegetable('carrot', 'slices or strips of 3 mm', [10, 12], [3, 3.5], [3.5, 3.5], tableCopy),
  vegetable('sweet-corn', 'blanched on the cob, cut off', [6, 10], [5, 6], [4, 5], tableCopy),
  vegetable('eggplant', 'slices of 6 mm', [12, 14], [3.5, 3.5], [3, 3], tableCopy),
  vegetable('mushroom', 'sliced', [8, 10], null, null, tableCopy),
  vegetable('onion', 'slices of 3 to 6 mm', [3, 9], null, null, tableCopy),
  vegetable('pea', 'shelled', [8, 10], [3, 3], [2, 2], tableCopy),
  vegetable('sweet-pepper', 'discs of 9 mm, or strips', [8, 12], null, null, tableMemory),
  vegetable('potato', 'slices of 3 mm', [8, 12], [6, 8], [5, 6], tableMemory),
  vegetable('pumpkin', 'strips of 3 mm', [10, 16], [2.5, 3], [1, 1], tableMemory),
  vegetable('winter-squash', 'strips of 3 mm', [10, 16], [2.5, 3], [1, 1], tableMemory),
  vegetable('summer-squash', 'slices of 6 mm', [10, 12], [2.5, 3], [1.5, 1.5], tableMemory),
  vegetable('tomato', 'skinned, sections of 2 cm or slices of 6 mm', [10, 18], null, null, tableMemory),
  vegetable('asparagus', 'pieces of 2.5 cm', [6, 8], [4, 5], [3.5, 4.5], vegetableMaker),
  vegetable('snap-bean', 'pieces of 2.5 cm', [6, 11], [2, 2.5], [2, 2], vegetableMaker),
  vegetable('beet', 'cooked, strips of 3 mm', [4, 7], null, null, vegetableMaker),
  vegetable('carrot', 'slices of 3 to 6 mm', [4, 10], [3, 3.5], [3, 3], vegetableMaker),
  vegetable('sweet-corn', 'blanched on the cob, cut off', [6, 10], [2, 2.5], [1.5, 1.5], vegetableMaker),
  vegetable('mushroom', 'slices of 9 mm', [2, 6], null, null, vegetableMaker),
  vegetable('onion', 'slices of 6 mm', [3, 7], null, null, vegetableMaker),
  vegetable('pea', 'shelled', [5, 9], [3, 3], [2, 2], vegetableMaker),
  vegetable('sweet-pepper', 'strips of 6 mm', [5, 10], null, null, vegetableMaker),
  vegetable('potato', 'slices of 6 mm', [4, 8], [6, 8], [5, 6], vegetableMaker),
  vegetable('summer-squash', 'slices of 6 mm', [4, 6], [2.5, 3], [1.5, 1.5], vegetableMaker),
  vegetable('tomato', 'sections of 2 cm', [6, 11], null, null, vegetableMaker),
]

export const driedVegetableLives: readonly DriedVegetableLife[] = [
  keeps('snap-bean', [4, 6], [3, 4], [3, 4], [4, 6]),
  keeps('beet', [4, 6], [3, 4]),
  keeps('carrot', [6, 8], [4, 6], [3, 3], [4, 4]),
  keeps('sweet-corn', [4, 6], [3, 4], null, [3, 3]),
  keeps('mushroom', [2, 4], [1, 2]),
  keeps('onion', [4, 6], [2, 4]),
  keeps('pea', [4, 6], [3, 4], [2, 2], [3, 3]),
  keeps('potato', [4, 6], [2, 4], [5, 5]),
  keeps('sweet-pepper', [8, 12], [6, 8]),
  keeps('summer-squash', [1, 2], [0, 1]),
  keeps('tomato', [3, 4], [2, 3]),
]

/** All printed lines for a crop, handbooks first; empty: none is listed. */
export function dryingWaysFor(crop: string): readonly DryingWay[] {
  return dryingWays.filter(({ crops }) => crops.includes(crop))
}

function fruit(
  crops: readonly string[],
  cut: string,
  hours: readonly [number, number],
  tempC: number,
  source: Citation,
  steamMinutes: readonly [number, number] | null = null,
  syrupMinutes: number | null = null,
): DryingWay {
  return {
    crops,
    kind: 'fruit',
    cut,
    dryer: 'dehydrator',
    tempC,
    hours,
    steamMinutes,
    waterMinutes: null,
    syrupMinutes,
    source,
  }
}

function vegetable(
  crop: string,
  cut: string,
  hours: readonly [number, number],
  steamMinutes: readonly [number, number] | null,
  waterMinutes: readonly [number, number] | null,
  source: Citation,
): DryingWay {
  return {
    crops: [crop],
    kind: 'vegetable',
    cut,
    dryer: 'dehydrator',
    tempC: source === vegetableMaker ? 57 : 60,
    hours,
    steamMinutes,
    waterMinutes,
    syrupMinutes: null,
    source,
  }
}

function keeps(
  crop: string,
  at16C: readonly [number, number],
  at21C: readonly [number, number],
  waterMinutes: readonly [number, number] | null = null,
  steamMinutes: readonly [number, number] | null = null,
): DriedVegetableLife {
  return { crop, at16C, at21C, waterMinutes, steamMinutes, source: colorado }
}
