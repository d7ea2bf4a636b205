import { gramsPerPound } from '../../units/mass.ts'
import type { Container } from '../../units/readings.ts'
import type { Citation, ContainerWeight, Crop, StorageLife, Trim } from '../crop.ts'
import type { SourceId } from '../sources.ts'
import type { TrimKind } from '../vocabulary.ts'

// Short words in which the tables of crops are written. Figures stay in the unit of their source.

/** Read in the source. */
export function seen(document: SourceId, section?: string, note?: string): Citation {
  return cite(document, 'seen', section, note)
}

/** Known, but not read again. */
export function memory(document: SourceId, section?: string, note?: string): Citation {
  return cite(document, 'memory', section, note)
}

/** Taken from common practice: nobody published it. */
export function practice(section: string): Citation {
  return cite('common-practice', 'practice', section)
}

/** A container's weight; a published range of pounds counts with its middle. */
export function holds(
  container: Container,
  pounds: number | readonly [number, number],
  source: Citation,
): ContainerWeight {
  return { container, grams: Math.round(middle(pounds) * gramsPerPound), source }
}

/**
 * Pieces by a published count of medium ones in a pound. No source seen counts small and large ones: common practice
 * takes a small piece at three quarters and a large one at four thirds of a medium one.
 */
export function perPound(mediumPieces: number | readonly [number, number], source: Citation): Crop['pieces'] {
  const medium = (middle(mediumPieces) * 1000) / gramsPerPound
  return { perKg: { small: (medium * 4) / 3, medium, large: (medium * 3) / 4 }, source }
}

/** Pieces by the grams of a small, medium and large one. */
export function weighing(small: number, medium: number, large: number, source: Citation): Crop['pieces'] {
  return { perKg: { small: 1000 / small, medium: 1000 / medium, large: 1000 / large }, source }
}

/** What is edible of a kilogram as bought, in hundredths, so that the trim comes out exact. */
export function edible(percent: number, how: string, kind: TrimKind, source: Citation): Trim {
  return { edible: percent / 100, share: (100 - percent) / 100, kind, how, source }
}

export function coldStore(tempC: number, low: number, high: number, source: Citation): StorageLife {
  return { basis: 'cold-store', tempC, days: [low, high], source }
}

/** In a household refrigerator: at 4 degrees, since 40 degrees Fahrenheit is the warmest that FoodKeeper allows for. */
export function refrigerator(low: number, high: number, source: Citation): StorageLife {
  return { basis: 'household', tempC: 4, days: [low, high], source }
}

/** On a kitchen shelf, at 20 degrees. */
export function shelf(low: number, high: number, source: Citation): StorageLife {
  return { basis: 'household', tempC: 20, days: [low, high], source }
}

/** Until firm produce is ripe at room temperature, 20 degrees. */
export function ripens(low: number, high: number, source: Citation): StorageLife {
  return { basis: 'ripening', tempC: 20, days: [low, high], source }
}

/** From the respiration of the crop at two temperatures, as Handbook 66 prints them (memory). */
export function respiration(value: number, section = 'respiration summary table'): Crop['q10'] {
  return { value, source: memory('handbook-66', section) }
}

/** Where no respiration figure is at hand: the middle of "two to three times for each 10 degrees". */
export const usualQ10: Crop['q10'] = { value: 2.5, source: seen('respiration-rule', 'Q10 2 to 3') }

function cite(document: SourceId, confidence: Citation['confidence'], section?: string, note?: string): Citation {
  return {
    document,
    confidence,
    ...(section === undefined ? {} : { section }),
    ...(note === undefined ? {} : { note }),
  }
}

function middle(range: number | readonly [number, number]): number {
  return typeof range === 'number' ? range : (range[0] + range[1]) / 2
}
