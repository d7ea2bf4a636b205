import { type Citation, memory, seen } from '../sources.ts'
import type { ProcessRow } from '../types.ts'
import { hot, hotAndRaw, lowAcidLine, lowAcidLines } from './pressure-rows.ts'
import { halfPints, type PressureTable, pints, quarts, underPressure } from './rows.ts'

function on(source: Citation): PressureTable['source'] {
  return { dial: source, weighted: source }
}

const sheet = (number: string) => on(seen('msu-preserving', number))

const tables: readonly PressureTable[] = [
  {
    product: 'chicken or rabbit',
    form: 'without bones',
    headspaceIn: 1.25,
    acidity: 'low-acid',
    source: sheet('01600482'),
    rows: lowAcidLines(hotAndRaw, 75, 90),
  },
  {
    product: 'chicken or rabbit',
    form: 'with bones',
    headspaceIn: 1.25,
    acidity: 'low-acid',
    source: sheet('01600482'),
    rows: lowAcidLines(hotAndRaw, 65, 75),
  },
  {
    product: 'meat, ground or chopped',
    form: '',
    headspaceIn: 1,
    acidity: 'low-acid',
    source: sheet('01600473'),
    rows: lowAcidLines(hot, 75, 90),
  },
  {
    product: 'meat, strips, cubes or chunks',
    form: '',
    headspaceIn: 1,
    acidity: 'low-acid',
    source: sheet('01600849'),
    rows: lowAcidLines(hotAndRaw, 75, 90),
  },
  {
    product: 'meat stock',
    form: 'broth',
    headspaceIn: 1,
    acidity: 'low-acid',
    source: sheet('01600478'),
    rows: lowAcidLines(hot, 20, 25),
  },
  {
    product: 'chile con carne',
    form: '',
    headspaceIn: 1,
    acidity: 'low-acid',
    asPublished: true,
    notes: ['Pints or smaller only.', 'Do not thicken it.'],
    source: sheet('01600850'),
    rows: [lowAcidLine('hot', pints, 75)],
  },
  {
    product: 'fish',
    form: 'pieces',
    headspaceIn: 1,
    acidity: 'low-acid',
    notes: ['Fatty fish except tuna, without liquid.', 'Pints or smaller only.'],
    source: on(
      seen(
        'msu-preserving',
        '01600574',
        'that half-pints and 12-ounce jars take the same time: a reprint of the guide',
      ),
    ),
    rows: [lowAcidLine('raw', ['half-pint', '12-ounce', 'pint'], 100)],
  },
  {
    product: 'festive mincemeat pie filling',
    form: 'mincemeat of meat, suet and fruit',
    headspaceIn: 1,
    acidity: 'low-acid',
    asPublished: true,
    notes: ['Quarts only.'],
    source: on(seen('national-center', 'Festive Mincemeat Pie Filling', 'the sheet carries the guide of 2015')),
    rows: [lowAcidLine('hot', quarts, 90)],
  },
  {
    product: 'clams',
    form: 'whole or minced',
    headspaceIn: 1,
    acidity: 'low-acid',
    notes: ['Pints or smaller only.'],
    source: on(memory('usda-2015', 'Guide 5 p. 5-9')),
    rows: [lowAcidLine('hot', halfPints, 60), lowAcidLine('hot', ['pint'], 70)],
  },
  {
    product: 'oysters',
    form: '',
    headspaceIn: 1,
    acidity: 'low-acid',
    notes: ['Pints or smaller only.'],
    source: sheet('01600853'),
    rows: [lowAcidLine('hot', pints, 75)],
  },
]

/** Meat, poultry, fish and shellfish under pressure; none of them has a process without it. */
export const pressureMeat: readonly ProcessRow[] = tables.flatMap(underPressure)
