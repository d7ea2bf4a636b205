import { feetAt } from './atmosphere.ts'
import { type Citation, seen } from './sources.ts'

export type Boil = { minutes: number; says: string; source: Citation }

/**
 * Minutes for which empty jars are boiled before they are filled, at an altitude in metres: needed where the food is
 * processed for less than ten minutes. Ten minutes below 1,000 ft and one more for each 1,000 ft. "Each additional
 * 1,000 ft" can be read in two ways; this takes the longer: 1,000 ft has eleven minutes, 5,000 ft fifteen.
 * @throws RangeError outside -500 to 11,000 m
 */
export function sterilisingBoil(altitudeM: number): Boil {
  const minutes = tenAndOneForEachThousandFeet(altitudeM)
  return {
    minutes,
    says: `Boil the empty jars for ${minutes} minutes, and keep them hot until they are filled.`,
    source: seen('usda-2015', 'Guide 1 p. 1-14', 'the longer of two readings'),
  }
}

/**
 * Minutes for which home-canned low-acid or tomato food that is in any doubt is boiled before anyone tastes it, at an
 * altitude in metres; read as in `sterilisingBoil`. It destroys botulinum toxin. It is a last precaution with food that
 * is already open and nothing else: no jar, process or recipe may be called good because of it.
 * @throws RangeError outside -500 to 11,000 m
 */
export function boilBeforeTasting(altitudeM: number): Boil & { permits: false } {
  const minutes = tenAndOneForEachThousandFeet(altitudeM)
  return {
    minutes,
    permits: false,
    says:
      `Boil it for ${minutes} minutes before anyone tastes it. This does not put right a jar that was processed too ` +
      'short, has come open or looks or smells wrong: that one is thrown away, untasted.',
    source: seen('usda-2015', 'front matter', 'the longer of two readings'),
  }
}

/** A ten-thousandth of a foot counts as the next thousand: metres lose that much in floating point. */
const slack = 1e-4

function tenAndOneForEachThousandFeet(altitudeM: number): number {
  return 10 + Math.max(0, Math.floor((feetAt(altitudeM) + slack) / 1000))
}
