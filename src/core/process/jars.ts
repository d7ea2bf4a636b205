import { mlPer } from '../units/index.ts'
import { type Citation, memory, practice, seen } from './sources.ts'
import type { JarSize } from './types.ts'

export type Mouth = 'regular' | 'wide'

export const mouthOpenings: Readonly<Record<Mouth, { mm: number; source: Citation }>> = {
  regular: { mm: 60, source: seen('usda-2015', 'Guide 1 p. 1-13', '2 3/8 in') },
  wide: { mm: 76, source: seen('usda-2015', 'Guide 1 p. 1-13', '3 in') },
}

/** One kind of jar. Outside measures are with lid and band. */
export type Jar = {
  size: JarSize
  mouth: Mouth
  /** To the brim as sold, in millilitres. */
  ml: number
  diameterMm: number
  heightMm: number
  source: Citation
}

const measured = practice('typical US jars, to some 3 mm: measure your own before a load depends on it')

/** Jars for which times are published, as commonly sold in the US, smallest first. */
export const jars: readonly Jar[] = [
  jar('half-pint', 'regular', mlPer.cup, 73, 98),
  jar('half-pint', 'wide', mlPer.cup, 86, 76),
  jar('12-ounce', 'regular', 12 * mlPer.fluidOunce, 73, 135),
  jar('pint', 'regular', mlPer.pint, 83, 129),
  jar('pint', 'wide', mlPer.pint, 89, 121),
  jar('1.5-pint', 'wide', 1.5 * mlPer.pint, 89, 175),
  jar('quart', 'regular', mlPer.quart, 95, 175),
  jar('quart', 'wide', mlPer.quart, 98, 175),
  jar('half-gallon', 'wide', mlPer.gallon / 2, 122, 232),
]

/** Volumes are the US customary measures (memory); `jars` carry the source of their outside measures. */
export const jarVolumeSource: Citation = memory('usda-2015', 'Guide 1 p. 1-13', 'US customary volumes')

/** The jar of a size, with a regular mouth where both are sold, unless the wide one is named. @throws RangeError for a mouth in which the size is not sold */
export function jarOf(size: JarSize, mouth?: Mouth): Jar {
  const found = jars.find((one) => one.size === size && (mouth === undefined || one.mouth === mouth))
  if (found === undefined) throw new RangeError(`no ${size} jar with a ${mouth} mouth`)
  return found
}

/** A round canner or pot, inside measures in millimetres; the width is the diameter. */
export type Kettle = { insideWidthMm: number; insideHeightMm: number }

export type FitOptions = {
  /** Water over the lids; default by `waterAboveMm`. 0 in a pressure canner. */
  waterAboveMm?: number | undefined
  /** Room for water to boil over that; default an inch. 0 in a pressure canner. */
  boilingRoomMm?: number | undefined
  /** The rack under the jars, and again between two layers. Default 13 mm. */
  rackMm?: number | undefined
  /** Between jars. Default 3 mm: they stand apart so that water moves between them. */
  gapMm?: number | undefined
}

export type JarsThatFit = {
  perLayer: number
  /** 0: not even one layer has its water. Two only for jars of a pint or less. */
  layers: 0 | 1 | 2
  jars: number
  /** Height that these layers take with racks, water and room to boil; for 0 layers, that one would take. */
  heightNeededMm: number
  /** Height over; negative: what is lacking. */
  heightLeftMm: number
}

/** Millimetres of water over the lids for a process of so many minutes: one inch, two above half an hour. @throws RangeError below 0 */
export function waterAboveMm(minutes: number): number {
  if (!(minutes >= 0)) throw new RangeError(`no process takes ${minutes} minutes`)
  return minutes > 30 ? 50.8 : 25.4
}
export const waterAboveSource: Citation = seen('usda-2015', 'Guide 1 p. 1-18')

/**
 * How many jars of one kind stand in a round canner, and whether the height leaves an inch of water (two above 30
 * minutes: pass `waterAboveMm(minutes)`) over their lids and an inch more to boil in. Circles in a circle; a rack with
 * wire places for jars holds what it was made for and no more, so the canner's own rating counts where it is lower.
 * Never more than 20 a layer are counted.
 * @throws RangeError for a measure that is no length
 */
export function jarsThatFit(
  kettle: Kettle,
  one: Pick<Jar, 'size' | 'diameterMm' | 'heightMm'>,
  options: FitOptions = {},
): JarsThatFit {
  const { waterAboveMm: water = 25.4, boilingRoomMm = 25.4, rackMm = 13, gapMm = 3 } = options
  const lengths = [kettle.insideWidthMm, kettle.insideHeightMm, one.diameterMm, one.heightMm]
  if (!lengths.every((mm) => mm > 0 && Number.isFinite(mm))) throw new RangeError('a canner and a jar have a size')
  if (![water, boilingRoomMm, rackMm, gapMm].every((mm) => mm >= 0 && Number.isFinite(mm))) {
    throw new RangeError('water, rack and gap are lengths of 0 or more')
  }
  const perLayer = circlesIn((kettle.insideWidthMm + gapMm) / (one.diameterMm + gapMm))
  const needed = (layers: number) => layers * (one.heightMm + rackMm) + water + boilingRoomMm
  const most = stacks.includes(one.size) ? 2 : 1
  const layers =
    perLayer === 0 || needed(1) > kettle.insideHeightMm ? 0 : most === 2 && needed(2) <= kettle.insideHeightMm ? 2 : 1
  const heightNeededMm = needed(Math.max(1, layers))
  return {
    perLayer,
    layers,
    jars: perLayer * layers,
    heightNeededMm,
    heightLeftMm: kettle.insideHeightMm - heightNeededMm,
  }
}

const stacks: readonly JarSize[] = ['half-pint', '12-ounce', 'pint']

/**
 * The most equal circles that lie in a circle which is `ratio` times as wide as each of them, up to 20.
 * Ratios of the best packings known: proved to 13 and for 19, found by search for the others
 * (for these a search of ours came within a thousandth and no closer).
 */
export function circlesIn(ratio: number): number {
  // A millionth less than the ratio as printed still counts: measures are never that exact.
  return bestRatios.findLastIndex((least) => ratio >= least - 1e-6) + 1
}
export const packingSource: Citation = memory(
  'fair-sheets',
  undefined,
  'no sheet: Graham, Lubachevsky, Nurmela, Östergård, Dense packings of congruent circles in a circle, Discrete Mathematics 181, 1998',
)
/** Width of the smallest circle that holds one circle of width 1, two, three... */
export const bestRatios: readonly number[] = [
  1, 2, 2.1547005, 2.4142136, 2.7013016, 3, 3, 3.3047649, 3.6131259, 3.8130256, 3.9238044, 4.0296019, 4.236068,
  4.3284286, 4.5213569, 4.6154256, 4.7920337, 4.8637033, 4.8637033, 5.1223207,
]

function jar(size: JarSize, mouth: Mouth, ml: number, diameterMm: number, heightMm: number): Jar {
  return { size, mouth, ml, diameterMm, heightMm, source: measured }
}
