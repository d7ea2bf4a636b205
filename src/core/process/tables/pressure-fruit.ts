import { seen } from '../sources.ts'
import type { ProcessRow } from '../types.ts'
import { acidLine } from './pressure-rows.ts'
import { type PressureTable, pints, pintsAndQuarts, quarts, underPressure } from './rows.ts'

const guide2 = { dial: seen('usda-2015', 'Guide 2 p. 2-31'), weighted: seen('usda-2015', 'Guide 2 p. 2-32') }

const reprint = 'read in a reprint of the two fruit tables; a sheet of Minnesota Extension of 2010 has the same times'
/** These lines of the two tables were read in a reprint of the edition before. */
const guide2Reprint = {
  dial: seen('usda-1994', 'Guide 2, dial-gauge table for fruit', reprint),
  weighted: seen('usda-1994', 'Guide 2, weighted-gauge table for fruit', reprint),
}

const halfAnInch = { headspaceIn: 0.5, acidity: 'acid' } as const

const tables: readonly PressureTable[] = [
  {
    product: 'applesauce',
    form: 'sauce',
    ...halfAnInch,
    source: guide2,
    rows: [acidLine('hot', pints, 8), acidLine('hot', quarts, 10)],
  },
  { product: 'apples', form: 'sliced', ...halfAnInch, source: guide2, rows: [acidLine('hot', pintsAndQuarts, 8)] },
  {
    product: 'apricots',
    form: 'halved or sliced',
    ...halfAnInch,
    source: guide2Reprint,
    rows: [acidLine('hot', pintsAndQuarts, 10), acidLine('raw', pintsAndQuarts, 10)],
  },
  {
    product: 'berries',
    form: 'whole',
    ...halfAnInch,
    notes: ['Not elderberries: they can be too low in acid.'],
    source: guide2,
    rows: [acidLine('hot', pintsAndQuarts, 8), acidLine('raw', pints, 8), acidLine('raw', quarts, 10)],
  },
  {
    product: 'cherries',
    form: 'whole, sweet or sour',
    ...halfAnInch,
    source: guide2,
    rows: [
      acidLine('hot', pints, 8),
      // The weighted line of hot quarts is missing from the copy of 2015 that was read.
      { ...acidLine('hot', quarts, 10), source: { weighted: guide2Reprint.weighted } },
      acidLine('raw', pintsAndQuarts, 10),
    ],
  },
  {
    product: 'fruit purees',
    form: 'puree',
    ...halfAnInch,
    notes: ['Not for purees of bananas, coconut, papaya, ripe mango, melons, Asian pears, figs or tomatoes.'],
    source: guide2,
    rows: [acidLine('hot', pintsAndQuarts, 8)],
  },
  {
    product: 'grapefruit and orange sections',
    form: 'sections',
    ...halfAnInch,
    source: guide2Reprint,
    rows: [acidLine('hot', pintsAndQuarts, 8), acidLine('raw', pints, 8), acidLine('raw', quarts, 10)],
  },
  {
    product: 'nectarines',
    form: 'halved or sliced',
    ...halfAnInch,
    notes: ['Yellow-fleshed only: white flesh can be too low in acid.'],
    source: guide2Reprint,
    rows: [acidLine('hot', pintsAndQuarts, 10), acidLine('raw', pintsAndQuarts, 10)],
  },
  {
    product: 'peaches',
    form: 'halved or sliced',
    ...halfAnInch,
    notes: ['Yellow-fleshed only: white flesh can be too low in acid.'],
    source: guide2,
    rows: [acidLine('hot', pintsAndQuarts, 10), acidLine('raw', pintsAndQuarts, 10)],
  },
  { product: 'pears', form: 'halved', ...halfAnInch, source: guide2, rows: [acidLine('hot', pintsAndQuarts, 10)] },
  {
    product: 'plums',
    form: 'halved or whole',
    ...halfAnInch,
    source: guide2,
    rows: [acidLine('hot', pintsAndQuarts, 10), acidLine('raw', pintsAndQuarts, 10)],
  },
  {
    product: 'rhubarb',
    form: 'stewed',
    ...halfAnInch,
    source: guide2Reprint,
    rows: [acidLine('hot', pintsAndQuarts, 8)],
  },
]

/** Fruit under pressure. */
export const pressureFruit: readonly ProcessRow[] = tables.flatMap(underPressure)
