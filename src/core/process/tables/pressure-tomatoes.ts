import { type Citation, memory, seen } from '../sources.ts'
import type { PackStyle, ProcessRow } from '../types.ts'
import { hot, hotAndRaw, lowAcidLines } from './pressure-rows.ts'
import { acidPressure, lowAcidPressure, type PressureTable, pintsAndQuarts, tomatoAcid, underPressure } from './rows.ts'

/** The 15 psi of a weighted gauge is for up to 1,000 ft; above that the tables say "not recommended". */
const fifteen = [15, null] as const

/**
 * The lines of one pack of tomatoes: the same food at three pressures, the last on a weighted gauge only. `last` is the
 * citation of that line where it is another one.
 */
function threePressures(
  packs: readonly PackStyle[],
  [low, middle, high]: readonly [number, number, number],
  last?: Citation,
): PressureTable['rows'][number][] {
  return packs.flatMap((pack) => [
    { pack, jars: pintsAndQuarts, minutes: low, ...acidPressure },
    { pack, jars: pintsAndQuarts, minutes: middle, ...lowAcidPressure },
    {
      pack,
      jars: pintsAndQuarts,
      minutes: high,
      weighted: fifteen,
      ...(last === undefined ? {} : { source: { weighted: last } }),
    },
  ])
}

function on(source: Citation): PressureTable['source'] {
  return { dial: source, weighted: source }
}

const acidified = { acidity: 'acidified', acid: tomatoAcid } as const
const acidToo = 'The acid goes into every jar under pressure too.'

const plain: readonly PressureTable[] = [
  {
    product: 'tomato juice',
    form: 'juice',
    headspaceIn: 0.5,
    ...acidified,
    notes: [acidToo],
    source: on(seen('usda-2015', 'Guide 3 p. 3-6')),
    rows: threePressures(
      hot,
      [20, 15, 10],
      memory('usda-2015', 'Guide 3 p. 3-6', 'the time is damaged in the copy that was read'),
    ),
  },
  {
    product: 'tomato and vegetable juice blend',
    form: 'juice',
    headspaceIn: 0.5,
    ...acidified,
    asPublished: true,
    notes: [acidToo, 'At most 3 cups of celery, onions, carrots and peppers together for 22 pounds of tomatoes.'],
    source: on(seen('msu-preserving', '01600833', 'a reprint of later text of the USDA guide has the same times')),
    rows: threePressures(hot, [20, 15, 10]),
  },
  {
    product: 'tomatoes, crushed',
    form: 'no added liquid',
    headspaceIn: 0.5,
    ...acidified,
    notes: [acidToo],
    source: on(seen('usda-2015', 'Guide 3 p. 3-8')),
    rows: threePressures(hot, [20, 15, 10]),
  },
  {
    product: 'tomato sauce, standard',
    form: 'thin or thick',
    headspaceIn: 0.25,
    ...acidified,
    notes: [acidToo],
    source: on(seen('usda-2015', 'Guide 3 p. 3-9')),
    rows: threePressures(hot, [20, 15, 10]),
  },
  {
    product: 'tomatoes, whole or halved',
    form: 'packed in water',
    headspaceIn: 0.5,
    ...acidified,
    notes: [
      acidToo,
      'A reprint of the 1990s guide has 20 minutes for hot pints at the lowest pressure of a dial gauge, where the edition of 2015 has 15. Take 20 if in doubt.',
    ],
    source: on(seen('usda-2015', 'Guide 3 p. 3-10')),
    rows: threePressures(
      hotAndRaw,
      [15, 10, 1],
      seen(
        'usda-2015',
        'Guide 3 p. 3-10',
        'the time of this line was read in a reprint of the later text of the guide',
      ),
    ),
  },
  {
    product: 'tomatoes, whole or halved',
    form: 'packed in tomato juice',
    headspaceIn: 0.5,
    ...acidified,
    notes: [acidToo],
    source: on(seen('msu-preserving', '01600828', 'a reprint of later text of the USDA guide has the same times')),
    rows: threePressures(hotAndRaw, [40, 25, 15]),
  },
  {
    product: 'tomatoes, whole or halved',
    form: 'raw, no added liquid',
    headspaceIn: 0.5,
    ...acidified,
    notes: [acidToo],
    source: on(seen('usda-2015', 'Guide 3 p. 3-12')),
    rows: threePressures(['raw'], [40, 25, 15]),
  },
]

/** Tomatoes with so much else in them that they count as low-acid, without acid added; each is a published recipe. */
const mixed: readonly PressureTable[] = [
  {
    product: 'tomatoes with okra or zucchini',
    form: '',
    headspaceIn: 1,
    acidity: 'low-acid',
    asPublished: true,
    notes: ['About 3 pounds of tomatoes to 1 pound of okra or zucchini.'],
    source: on(seen('usda-2015', 'Guide 3, tomatoes with okra or zucchini', 'read in a reprint of the guide')),
    rows: lowAcidLines(hot, 30, 35),
  },
  {
    product: 'spaghetti sauce without meat',
    form: '',
    headspaceIn: 1,
    acidity: 'low-acid',
    asPublished: true,
    notes: ['No more onions, peppers or mushrooms than the published recipe has.'],
    source: on(seen('usda-2015', 'Guide 3 p. 3-14')),
    rows: lowAcidLines(hot, 20, 25),
  },
  {
    product: 'spaghetti sauce with meat',
    form: '',
    headspaceIn: 1,
    acidity: 'low-acid',
    asPublished: true,
    notes: ['No more onions, peppers or mushrooms than the published recipe has.'],
    source: on(seen('msu-preserving', '01600878')),
    rows: lowAcidLines(hot, 60, 70),
  },
  {
    product: 'Mexican tomato sauce',
    form: '',
    headspaceIn: 1,
    acidity: 'low-acid',
    asPublished: true,
    source: on(seen('msu-preserving', '01600879')),
    rows: lowAcidLines(hot, 20, 25),
  },
]

/** Tomatoes and tomato sauces under pressure. */
export const pressureTomatoes: readonly ProcessRow[] = [...plain, ...mixed].flatMap(underPressure)
