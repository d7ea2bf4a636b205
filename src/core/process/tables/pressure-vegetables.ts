import { type Citation, memory, seen } from '../sources.ts'
import type { ProcessRow } from '../types.ts'
import { pressureMeat } from './pressure-meat.ts'
import { hot, hotAndRaw, lowAcidLine, lowAcidLines } from './pressure-rows.ts'
import { type PressureTable, pints, quarts, underPressure } from './rows.ts'

function on(source: Citation): PressureTable['source'] {
  return { dial: source, weighted: source }
}

const guide4 = (page: string) => on(seen('usda-2015', `Guide 4 p. ${page}`))
/** Lines that were read in a recipe archive's copy of the edition before; the later one is not known to differ. */
const guide4Copy = (product: string) =>
  on(seen('usda-1994', `Guide 4, ${product}`, "read in a recipe archive's copy of the guide"))

const oneInch = { headspaceIn: 1, acidity: 'low-acid' } as const

const vegetables: readonly PressureTable[] = [
  {
    product: 'asparagus',
    form: 'spears or pieces',
    ...oneInch,
    source: guide4Copy('asparagus'),
    rows: lowAcidLines(hotAndRaw, 30, 40),
  },
  {
    product: 'beans or peas, shelled dried',
    form: 'shelled',
    ...oneInch,
    source: guide4('4-6'),
    rows: lowAcidLines(hot, 75, 90),
  },
  {
    product: 'beans, baked',
    form: '',
    ...oneInch,
    asPublished: true,
    source: on(memory('usda-2015', 'Guide 4, baked beans', 'processed as beans with molasses sauce')),
    rows: lowAcidLines(hot, 65, 75),
  },
  {
    product: 'beans, dry, with tomato or molasses sauce',
    form: '',
    ...oneInch,
    asPublished: true,
    source: guide4('4-7'),
    rows: lowAcidLines(hot, 65, 75),
  },
  {
    product: 'beans, fresh lima',
    form: 'shelled',
    ...oneInch,
    source: on(seen('msu-preserving', '01600712')),
    rows: [...lowAcidLines(hot, 40, 50), lowAcidLine('raw', pints, 40)],
  },
  {
    product: 'beans, fresh lima',
    form: 'shelled',
    headspaceIn: 1.5,
    acidity: 'low-acid',
    notes: ['Raw in quarts, large beans need 1 1/4 inches of headspace and small ones 1 1/2.'],
    source: on(seen('msu-preserving', '01600712')),
    rows: [lowAcidLine('raw', quarts, 50)],
  },
  {
    product: 'beans, snap and Italian',
    form: 'pieces',
    ...oneInch,
    source: {
      dial: seen('usda-2015', 'Guide 4 p. 4-8/4-9'),
      weighted: seen('msu-preserving', '01600883'),
    },
    rows: lowAcidLines(hotAndRaw, 20, 25),
  },
  {
    product: 'beets',
    form: 'whole, cubed or sliced',
    ...oneInch,
    source: guide4('4-10'),
    rows: lowAcidLines(hot, 30, 35),
  },
  {
    product: 'carrots',
    form: 'sliced or diced',
    ...oneInch,
    source: guide4('4-10/4-11'),
    rows: lowAcidLines(hotAndRaw, 25, 30),
  },
  {
    product: 'corn',
    form: 'cream style',
    ...oneInch,
    notes: ['Pints or smaller only.'],
    source: guide4('4-11'),
    rows: [lowAcidLine('hot', pints, 85)],
  },
  {
    product: 'corn',
    form: 'whole kernel',
    ...oneInch,
    source: guide4('4-12'),
    rows: lowAcidLines(hotAndRaw, 55, 85),
  },
  {
    product: 'mixed vegetables',
    form: '',
    ...oneInch,
    notes: [
      'The mix may change, but not with leafy greens, dried beans, cream style corn, winter squash or sweet potatoes.',
    ],
    source: guide4('4-13'),
    rows: lowAcidLines(hot, 75, 90),
  },
  {
    product: 'mushrooms',
    form: 'whole or sliced',
    ...oneInch,
    notes: ['Pints or smaller only.', 'Grown mushrooms only, never wild ones.'],
    source: guide4('4-13'),
    rows: [lowAcidLine('hot', pints, 45)],
  },
  { product: 'okra', form: '', ...oneInch, source: guide4Copy('okra'), rows: lowAcidLines(hot, 25, 40) },
  {
    product: 'peas, green or English',
    form: 'shelled',
    ...oneInch,
    source: guide4('4-15'),
    rows: lowAcidLines(hotAndRaw, 40, 40),
  },
  {
    product: 'peppers',
    form: 'hot or sweet',
    ...oneInch,
    notes: ['Pints or smaller only.'],
    source: guide4('4-16'),
    rows: [lowAcidLine('hot', pints, 35)],
  },
  {
    product: 'potatoes, sweet',
    form: 'pieces or whole',
    ...oneInch,
    notes: ['Packed in liquid: not mashed, not pureed, not dry.'],
    source: guide4('4-17'),
    rows: lowAcidLines(hot, 65, 90),
  },
  {
    product: 'potatoes, white',
    form: 'cubed or whole',
    ...oneInch,
    source: guide4Copy('potatoes, white'),
    rows: lowAcidLines(hot, 35, 40),
  },
  {
    product: 'pumpkin and winter squash',
    form: 'cubed',
    ...oneInch,
    notes: ['Cubes of 1 inch only: not mashed, not pureed.'],
    source: guide4('4-18'),
    rows: lowAcidLines(hot, 55, 90),
  },
  {
    product: 'spinach and other greens',
    form: '',
    ...oneInch,
    source: on(seen('msu-preserving', '01600053')),
    rows: lowAcidLines(hot, 70, 90),
  },
  {
    product: 'succotash',
    form: '',
    ...oneInch,
    asPublished: true,
    source: guide4('4-20/4-21'),
    rows: lowAcidLines(hotAndRaw, 60, 85),
  },
]

const unthickened = 'No noodles, rice, flour, cream, milk or other thickener.'

const soups: readonly PressureTable[] = [
  {
    product: 'soups (vegetable, bean, meat)',
    form: '',
    ...oneInch,
    notes: [unthickened, '100 minutes if there is seafood in it.'],
    source: guide4('4-19'),
    rows: lowAcidLines(hot, 60, 75),
  },
  {
    product: 'soups with seafood',
    form: '',
    ...oneInch,
    notes: [unthickened],
    source: guide4('4-19'),
    rows: lowAcidLines(hot, 100, 100),
  },
]

/** Vegetables, soups and other low-acid food under pressure. */
export const pressureVegetables: readonly ProcessRow[] = [
  ...[...vegetables, ...soups].flatMap(underPressure),
  ...pressureMeat,
]
