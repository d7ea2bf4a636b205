import { type Citation, memory, practice, seen } from '../process/sources.ts'
import { mustBePositive, mustBeShare } from './measures.ts'

export * from './drying-crops.ts'

/** Air that dries without cooking, degrees Celsius (135 to 140 °F). */
export const dryingTempC: { low: number; high: number; source: Citation } = {
  low: 57,
  high: 60,
  source: seen('usda-1977', 'drying chapter'),
}

/** How many times longer than a dehydrator an oven takes. */
export const ovenTakesTimes: { times: readonly [number, number]; source: Citation } = {
  times: [2, 3],
  source: seen('ndsu-drying', undefined, 'South Dakota prints the same'),
}
/** What an oven must hold with its door ajar to do instead of a dehydrator, degrees Celsius (140 to 145 °F). */
export const ovenMustHoldC: { low: number; high: number; doorOpenMm: readonly [number, number]; source: Citation } = {
  low: 60,
  high: 63,
  doorOpenMm: [50, 150],
  source: seen('ndsu-drying', undefined, 'with a fan; racks 2 in apart, 3 in from top and bottom'),
}

/** Hours in an oven for a time printed for a dehydrator. @throws RangeError for no time */
export function ovenHours(dehydratorHours: readonly [number, number]): readonly [number, number] {
  const [low, high] = dehydratorHours
  mustBePositive(low, 'hours')
  mustBePositive(high, 'hours')
  return [low * ovenTakesTimes.times[0], high * ovenTakesTimes.times[1]]
}

export type OvenFitness = { fit: 'good' | 'second-best'; says: string; source: Citation }

/**
 * Whether an oven does for drying, by the lowest and highest temperature that it really shows with its door ajar, in
 * degrees Celsius. One that cannot hold 60 to 63 °C is second best: it cooks or sours what it should dry.
 * @throws RangeError for no range
 */
export function ovenFitness(lowestC: number, highestC: number): OvenFitness {
  if (!(lowestC <= highestC)) throw new RangeError(`no range: ${lowestC} to ${highestC} °C`)
  const source = ovenMustHoldC.source
  const holds = lowestC >= ovenMustHoldC.low - 0.5 && highestC <= ovenMustHoldC.high + 0.5
  if (holds)
    return {
      fit: 'good',
      says: 'It holds 60 to 63 °C with the door ajar. Allow two to three times the hours, and keep children and pets away.',
      source,
    }
  const why =
    lowestC < ovenMustHoldC.low - 0.5
      ? 'It falls too cool, and food may sour before it is dry'
      : 'It runs too hot, and food cooks or hardens outside'
  return {
    fit: 'second-best',
    says: `${why}. A dehydrator, or an oven that holds 60 to 63 °C with its door ajar, does better.`,
    source,
  }
}

/** Water left when it is dry, by weight. */
export const finalMoisture: Readonly<Record<'fruit' | 'vegetable', { share: number; source: Citation }>> = {
  fruit: { share: 0.2, source: seen('georgia-drying', undefined, 'about 20 %') },
  vegetable: { share: 0.1, source: memory('so-easy', 'drying', 'about 10 %; a maker prints 5 %') },
}

/** How dry feels. */
export const drynessTests: Readonly<Record<'fruit' | 'vegetable', { says: string; source: Citation }>> = {
  fruit: {
    says: 'Cool a piece: it bends, is not sticky and gives no moisture when squeezed. Berries rattle.',
    source: seen('georgia-drying'),
  },
  vegetable: { says: 'Hard and brittle: it snaps.', source: seen('usda-1977', 'drying chapter') },
}

/** What comes after drying, in order. */
export const afterDrying = {
  cool: { minutes: [30, 60], source: seen('georgia-drying') },
  condition: {
    days: [7, 10],
    says: 'Fruit: fill jars two thirds, shake them every day; drops on the glass mean back to the dryer.',
    source: seen(
      'usda-1977',
      'drying chapter',
      'about a week; 7 to 10 days and two thirds from memory of newer sheets',
    ),
  },
  pasteurise: {
    oven: {
      tempC: 71,
      minutes: 30,
      source: memory('so-easy', 'drying', '160 °F; the guide of 1977 prints 150 °F, the hotter is taken'),
    },
    freezer: { tempC: -18, hours: 48, source: seen('usda-1977', 'drying chapter') },
    says: 'Only what was dried in the sun: it may hold insects and their eggs.',
  },
  sun: { leastTempC: 30, mostHumidity: 0.6, source: seen('georgia-drying', undefined, 'fruit only; 86 °F') },
} as const

/** Months for which dried fruit keeps at 16 °C (60 °F) and 27 °C (80 °F); vegetables about half as long. */
export const driedMonths: Readonly<Record<'fruit' | 'vegetable', { at16C: number; at27C: number; source: Citation }>> =
  {
    fruit: { at16C: 12, at27C: 6, source: seen('national-center', 'Packaging and storing dried foods') },
    vegetable: {
      at16C: 6,
      at27C: 3,
      source: seen('national-center', 'Packaging and storing dried foods', 'half of fruit'),
    },
  }

/**
 * Grams that are left of prepared food once it is dry, from its water by weight before and after (0 to 1):
 * what is not water stays.
 * @throws RangeError for no food, water of a whole or more, or less water before than after
 */
export function driedGrams(preparedGrams: number, waterBefore: number, waterAfter: number): number {
  mustBePositive(preparedGrams, 'food')
  mustBeShare(waterBefore, 'water')
  mustBeShare(waterAfter, 'water')
  if (waterBefore === 1 || waterAfter >= 1 || waterAfter > waterBefore) throw new RangeError('drying takes water out')
  return (preparedGrams * (1 - waterBefore)) / (1 - waterAfter)
}

/** Tray for produce: 12 square feet for half a bushel. */
export const trayRoom: { squareMetresPerHalfBushel: number; source: Citation } = {
  squareMetresPerHalfBushel: 12 * 0.3048 ** 2,
  source: memory('so-easy', 'drying'),
}

/** Thin slices in a hot oven, as often done at home, beside what handbooks print. The tool does not count on it. */
export const hotOvenSlices: { tempC: number; hours: number; source: Citation } = {
  tempC: 77,
  hours: 2,
  source: practice(
    'thin slices about two hours at 170 °F: hotter than handbooks dry, so they are half baked; eaten soon or kept cold',
  ),
}
