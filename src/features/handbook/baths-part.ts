import { ascorbicAcidFor, bathNames, baths, otherDryingSoaks } from '../../core/practice/index.ts'
import { mlPer } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import { minutesText } from '../processes/index.ts'
import { capital, fractionText } from './figures.ts'
import { type Section, section, sourcedTable } from './parts.ts'

/** Baths that keep peeled fruit pale, for a litre or a quart. */
export function bathsSection(coop: CoopWays): Section {
  const ml = coop.units === 'metric' ? 1000 : mlPer.quart
  const amount = coop.units === 'metric' ? '1 l' : '1 quart'
  return section({
    id: 'baths',
    heading: 'Baths against browning',
    says: [
      'Vitamin C (ascorbic acid), as crystals or crushed tablets. It keeps fruit pale; it is not the acid that a jar needs.',
    ],
    tables: [
      sourcedTable(
        `Ascorbic acid for ${amount} of water or syrup`,
        ['Bath', 'For', '#Crystals', '#Tablets of 500 mg', 'How long'],
        bathNames.map((name) => {
          const { says, minutes } = baths[name]
          const acid = ascorbicAcidFor(name, ml)
          return {
            name: capital(name),
            cells: [
              says,
              `${formatFor(coop).number(acid.grams, 1)} g (${fractionText(Math.round(acid.teaspoons * 8) / 8)} tsp)`,
              formatFor(coop).number(acid.tablets),
              minutes === null ? 'while you work' : minutesText(minutes),
            ],
            source: acid.source,
          }
        }),
      ),
      sourcedTable(
        'Other soaks before drying',
        ['Soak', 'In 2 cups of water', 'How long'],
        otherDryingSoaks.map(({ of, teaspoonsPerTwoCups, minutes, source }) => ({
          name: capital(of),
          cells: [
            teaspoonsPerTwoCups === null ? 'one to one' : `${fractionText(teaspoonsPerTwoCups)} tsp`,
            minutesText(minutes),
          ],
          source,
        })),
      ),
    ],
  })
}
