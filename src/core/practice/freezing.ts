import { type Citation, memory, practice, seen } from '../process/sources.ts'
import { gramsPerCup, gramsPerPound, mlPer, mustBePositive } from './measures.ts'

export const freezerPacks = ['liquid', 'dry', 'juice', 'tray'] as const
/** `liquid`: in syrup, juice or water, sugared, crushed or puréed. `dry`: alone, no liquid. `tray`: frozen loose, then bagged. */
export type FreezerPack = (typeof freezerPacks)[number]
export type FreezerTop = 'wide' | 'narrow'
export type FreezerSize = 'pint' | 'quart'

const headspaceSource = seen('national-center', 'Headspace to allow, freezing', 'from So Easy to Preserve, 5th edition')
const headspaces: Readonly<Record<Exclude<FreezerPack, 'tray'>, Record<FreezerTop, Record<FreezerSize, number>>>> = {
  liquid: { wide: { pint: 0.5, quart: 1 }, narrow: { pint: 0.75, quart: 1.5 } },
  dry: { wide: { pint: 0.5, quart: 0.5 }, narrow: { pint: 0.5, quart: 0.5 } },
  juice: { wide: { pint: 0.5, quart: 1 }, narrow: { pint: 1.5, quart: 1.5 } },
}

/** Headspace in a freezer container, inches and millimetres. Full jars with narrow shoulders crack: leave it all. */
export function freezerHeadspace(
  pack: FreezerPack,
  top: FreezerTop,
  size: FreezerSize,
): { inches: number; mm: number; source: Citation } {
  if (pack === 'tray') return { inches: 0, mm: 0, source: trayPack.source }
  const inches = headspaces[pack][top][size]
  return { inches, mm: inches * 25.4, source: headspaceSource }
}

/** Canned jars that did not seal may be frozen with this much headspace. */
export const unsealedJarHeadspace: { inches: number; mm: number; source: Citation } = {
  inches: 1.5,
  mm: 38.1,
  source: seen('usda-2015', 'Guide 1 p. 1-26'),
}

/** Pieces frozen side by side until firm and then bagged stay loose. */
export const trayPack: { hours: readonly [number, number]; largePiecesHours: number; source: Citation } = {
  hours: [2, 4],
  largePiecesHours: 12,
  source: memory('national-center', 'tray pack', 'a few hours, overnight for large pieces; no headspace in the bag'),
}

export const freezerTempC = -18
export const freezerTempSource: Citation = seen(
  'delaware-freezing',
  undefined,
  '0 °F, packages in one layer until solid',
)

const litresPerCubicFoot = 28.316846592

export type FreezerLoad = {
  grams: readonly [number, number]
  gramsPerLitre: readonly [number, number]
  source: Citation
}

/**
 * Unfrozen food that a freezer takes in a day without thawing what is in it, in grams, low and high, from its litres:
 * 2 to 3 lb for each cubic foot.
 * @throws RangeError unless it holds something
 */
export function freezerLoadPerDay(litres: number): FreezerLoad {
  mustBePositive(litres, 'the freezer')
  const low = (2 * gramsPerPound) / litresPerCubicFoot
  const high = (3 * gramsPerPound) / litresPerCubicFoot
  const source = seen('freezer-maker', undefined, 'quotes USDA: 2 to 3 lb for each cubic foot in 24 hours')
  return { grams: [low * litres, high * litres], gramsPerLitre: [low, high], source }
}

/** Months at -18 °C for which it is at its best. It keeps longer and grows dull. */
export const frozenMonths: Readonly<
  Record<'fruit' | 'vegetable', { months: readonly [number, number]; source: Citation }>
> = {
  fruit: { months: [12, 12], source: seen('delaware-freezing') },
  vegetable: { months: [8, 12], source: memory('national-center', 'freezing, general') },
}

/** How a crop goes into the freezer. */
export type FreezingWay = {
  /** A crop's key, or its name. */
  crop: string
  /** How it is prepared: one short phrase. */
  how: string
  /** Minutes in boiling water before it is cooled and packed; null: not blanched. */
  blanchMinutes: readonly [number, number] | null
  packs: readonly FreezerPack[]
  /** Sugar in cups for a quart of prepared fruit in a sugar pack; null: none printed. */
  sugarCupsPerQuart: number | null
  /** Turns brown: ascorbic acid belongs in its syrup or sugar. */
  browns: boolean
  source: Citation
}

const bulletin = memory('usda-freezing', 'sugar pack')
const blanching = seen(
  'fair-sheets',
  'freezing vegetables',
  'an extension list of blanching times in a Missouri newspaper',
)
const fruitSheet = memory(
  'usda-freezing',
  undefined,
  'preparation; that most fruit freezes well was seen in a Kentucky sheet',
)

export const freezingWays: readonly FreezingWay[] = [
  fruit('apple', 'peeled, cored, sliced', ['liquid', 'dry'], 0.5, true, bulletin),
  fruit(
    'pear',
    'heated in syrup first; they freeze poorly and go soft',
    ['liquid'],
    null,
    true,
    seen('kentucky-freezing', undefined, 'freeze poorly; the syrup is from memory'),
  ),
  fruit('peach', 'skinned, stoned, halved or sliced', ['liquid', 'tray'], 2 / 3, true, bulletin),
  fruit('nectarine', 'stoned, halved or sliced', ['liquid', 'tray'], null, true, fruitSheet),
  fruit(
    'apricot',
    'stoned, halved; skins on: half a minute in boiling water keeps them soft',
    ['liquid', 'tray'],
    null,
    true,
    fruitSheet,
  ),
  fruit(
    'plum',
    'stoned, halved; in a syrup of 40 to 50 %',
    ['liquid', 'tray'],
    null,
    false,
    memory('usda-freezing', 'plums'),
  ),
  fruit(
    'damson',
    'stoned, halved; in a syrup of 40 to 50 %',
    ['liquid', 'tray'],
    null,
    false,
    memory('usda-freezing', 'plums'),
  ),
  fruit('cherry-sour', 'stoned', ['liquid', 'tray'], 0.75, false, bulletin),
  fruit('cherry-sweet', 'stoned', ['liquid', 'tray'], null, true, fruitSheet),
  fruit('blackberry', 'whole', ['tray', 'liquid'], 0.75, false, bulletin),
  fruit('raspberry', 'whole', ['tray', 'liquid'], 0.75, false, bulletin),
  fruit('strawberry', 'hulled, sliced for the sugar pack', ['tray', 'liquid'], 0.75, false, bulletin),
  fruit('blueberry', 'whole, unwashed for the tray', ['tray', 'liquid'], null, false, fruitSheet),
  fruit('redcurrant', 'stripped', ['tray', 'liquid'], null, false, fruitSheet),
  fruit('gooseberry', 'topped and tailed', ['tray', 'liquid'], null, false, fruitSheet),
  vegetable('asparagus', 'by thickness', [2, 4]),
  vegetable('snap-bean', 'ends off, in pieces', [3, 3]),
  vegetable('carrot', 'sliced 2 minutes, small whole ones 5', [2, 5]),
  vegetable('pea', 'shelled', [1.5, 1.5]),
  vegetable('spinach', 'leaves', [2, 2]),
  vegetable('summer-squash', 'sliced', [3, 3]),
  vegetable(
    'sweet-corn',
    'blanched on the cob, then cut off',
    [4, 4],
    memory('so-easy', 'freezing, whole-kernel corn', 'a seen copy garbles this line'),
  ),
  vegetable('beet', 'cooked until tender, peeled, cut', null, seen('fair-sheets', 'freezing vegetables')),
  vegetable('sweet-pepper', 'cored, cut; raw for use as seasoning', null, seen('fair-sheets', 'freezing vegetables')),
  vegetable('onion', 'chopped, raw', null, seen('fair-sheets', 'freezing vegetables')),
  vegetable('pumpkin', 'cooked until soft, mashed', null, seen('fair-sheets', 'freezing vegetables')),
  vegetable('winter-squash', 'cooked until soft, mashed', null, seen('fair-sheets', 'freezing vegetables')),
]

/** How a crop is frozen, by its key; null: nothing is listed here, which is no word against freezing it. */
export function freezingWay(crop: string): FreezingWay | null {
  return freezingWays.find((way) => way.crop === crop) ?? null
}

/** One minute longer from 5,000 ft up, where water boils cooler. */
export const highBlanching: { fromM: number; moreMinutes: number; source: Citation } = {
  fromM: 1524,
  moreMinutes: 1,
  source: memory('so-easy', 'freezing vegetables'),
}

/**
 * Grams of sugar for a sugar pack of so many millilitres of prepared fruit; null: none printed for this crop.
 * @throws RangeError unless there is fruit
 */
export function sugarPack(crop: string, ml: number): { grams: number; source: Citation } | null {
  mustBePositive(ml, 'fruit')
  const way = freezingWay(crop)
  if (way === null || way.sugarCupsPerQuart === null) return null
  return { grams: (ml / mlPer.quart) * way.sugarCupsPerQuart * gramsPerCup.sugar, source: way.source }
}

/** Fruit to sugar by weight in sugar packs, weakest and strongest in use. */
export const sugarPackRatios: { fruitToSugar: readonly [number, number]; source: Citation } = {
  fruitToSugar: [8, 3],
  source: seen('fair-sheets', undefined, 'a Canadian freezing guide: 3 to 1 up to 8 to 1'),
}

/** What is plain handling, and printed nowhere in particular. */
export const coolFirst: Citation = practice('food goes into the freezer cold: chill packages in the refrigerator first')

function fruit(
  crop: string,
  how: string,
  packs: readonly FreezerPack[],
  sugarCupsPerQuart: number | null,
  browns: boolean,
  source: Citation,
): FreezingWay {
  return { crop, how, blanchMinutes: null, packs, sugarCupsPerQuart, browns, source }
}

function vegetable(
  crop: string,
  how: string,
  blanchMinutes: readonly [number, number] | null,
  source = blanching,
): FreezingWay {
  return { crop, how, blanchMinutes, packs: ['dry', 'tray'], sugarCupsPerQuart: null, browns: false, source }
}
