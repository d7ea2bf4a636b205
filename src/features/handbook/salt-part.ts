import { dillPickleBrine, krautSaltFor, topUpBrine } from '../../core/practice/index.ts'
import { gramsPerPound, mlPer } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import { fractionText, inBoth, waterText } from './figures.ts'
import { sourcedTable, type Table } from './parts.ts'

/** Canning salt for ferments, by the published measure of each. */
export function saltTable(coop: CoopWays): Table {
  const kraut = krautSaltFor(5 * gramsPerPound)
  const topUp = topUpBrine(mlPer.quart)
  const dill = dillPickleBrine(4 * gramsPerPound)
  const { percent } = formatFor(coop)
  return sourcedTable(
    'Canning or pickling salt',
    ['For', '#Salt', 'With', '#Salt by weight'],
    [
      {
        name: `Sauerkraut, ${pounds(5, coop)} of cabbage`,
        cells: [saltText(kraut.tablespoons, kraut.grams, coop), 'its own juice', percent(kraut.share)],
        source: kraut.source,
      },
      {
        name: 'Brine to top up a crock',
        cells: [
          saltText(topUp.tablespoonsSalt, topUp.gramsSalt, coop),
          `${waterText(topUp.mlWater, coop)} of water, boiled and cooled`,
          percent(topUp.share),
        ],
        source: topUp.source,
      },
      {
        name: `Fermented dill pickles, ${pounds(4, coop)} of cucumbers`,
        cells: [
          saltText(dill.tablespoonsSalt, dill.gramsSalt, coop),
          `${waterText(dill.mlWater, coop)} of water and ${waterText(dill.mlVinegar, coop)} of vinegar of 5 %`,
          percent(dill.share),
        ],
        source: dill.source,
      },
    ],
  )
}

function saltText(tablespoons: number, grams: number, coop: CoopWays): string {
  return inBoth(coop, `${formatFor(coop).number(grams)} g`, `${fractionText(tablespoons)} tbsp`)
}

function pounds(many: number, coop: CoopWays): string {
  return inBoth(coop, formatFor({ ...coop, units: 'metric' }).weight(many * gramsPerPound), `${many} lb`)
}
