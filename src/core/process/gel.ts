import { boilingPointAt } from './atmosphere.ts'
import { type Citation, seen } from './sources.ts'

/** What is boiled to a set without added pectin. */
export const spreads = ['jelly', 'jam'] as const
export type Spread = (typeof spreads)[number]

/** Degrees Fahrenheit above boiling water at which it sets: jelly; jam, preserves and marmalade. */
export const aboveBoilingF: Readonly<Record<Spread, number>> = { jelly: 8, jam: 9 }
export const gelSource: Citation = seen(
  'usda-1977',
  'jelly chapter',
  'jams, preserves and marmalades are printed one degree above jelly; about 2 °F lower for each 1,000 ft',
)

/** The printed table of jelly points, in feet and degrees Fahrenheit, for comparing: it is rounded to whole degrees. */
export const printedJellyPoints: readonly { ft: number; jellyF: number }[] = [
  { ft: 0, jellyF: 220 },
  { ft: 1000, jellyF: 218 },
  { ft: 2000, jellyF: 216 },
  { ft: 3000, jellyF: 214 },
  { ft: 4000, jellyF: 212 },
  { ft: 6000, jellyF: 209 },
  { ft: 7000, jellyF: 207 },
  { ft: 8000, jellyF: 205 },
]
export const printedJellyPointsSource: Citation = seen(
  'national-center',
  'Testing jelly without added pectin, Table 1',
  'the same table as USDA Guide 7 p. 7-5',
)

export type GelPoint = { celsius: number; waterBoilsC: number; source: Citation }

/**
 * Temperature in degrees Celsius at which a spread without added pectin is done: 8 °F (jelly) or 9 °F (jam) above
 * boiling water. `where` is an altitude in metres or, better, what one's own thermometer showed in boiling water that
 * day, in degrees Celsius: it takes in the weather and the thermometer's own error.
 * @throws RangeError for an altitude outside -500 to 11,000 m, or a reading that no boiling water in that range gives
 */
export function gelPoint(spread: Spread, where: { altitudeM: number } | { waterBoilsC: number }): GelPoint {
  const waterBoilsC = 'altitudeM' in where ? boilingPointAt(where.altitudeM) : where.waterBoilsC
  if (!(waterBoilsC >= 60 && waterBoilsC <= 105)) throw new RangeError(`water does not boil at ${waterBoilsC} °C here`)
  return { celsius: waterBoilsC + (aboveBoilingF[spread] * 5) / 9, waterBoilsC, source: gelSource }
}
