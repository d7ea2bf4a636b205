import { type Citation, memory, seen } from './sources.ts'
import { spelled, spelledSize } from './spelling.ts'
import type { JarSize, PackStyle, ProcessMethod } from './types.ts'

/** What a word for a way of heating stands for; `pressure`: one of the two gauges, nobody said which. */
export type MethodMeant = ProcessMethod | 'pressure'

/** A way of closing or heating jars that no table covers because it does not do the work. */
export type UnsafeMethod = { names: readonly string[]; says: string; source: Citation }

/** Ways that are still passed on and must be refused whatever is in the jar. */
export const unsafeMethods: readonly UnsafeMethod[] = [
  {
    names: ['open kettle', 'open-kettle canning', 'hot fill', 'no processing', 'unprocessed'],
    says: 'Filling hot food into jars and closing them without heating them afterwards does not stop spoilage.',
    source: seen('usda-2015', 'Guide 1 p. 1-10'),
  },
  {
    names: ['oven', 'oven canning', 'oven-canned', 'dry canning'],
    says: 'An oven heats jars unevenly and too slowly, and jars can burst in it.',
    source: seen('usda-2015', 'Guide 1 p. 1-10'),
  },
  {
    names: ['microwave', 'microwave oven', 'microwave canning'],
    says: 'A microwave oven does not heat closed jars evenly enough to stop spoilage.',
    source: seen('usda-2015', 'Guide 1 p. 1-10'),
  },
  {
    names: ['dishwasher', 'dishwasher canning'],
    says: 'A dishwasher does not get hot enough to stop spoilage.',
    source: seen('usda-2015', 'Guide 1 p. 1-10'),
  },
  {
    names: ['inversion', 'inverting', 'inverted', 'inverted jars', 'upside down', 'turning jars over'],
    says: 'Turning hot jars over may close the lid, but it does not heat what is in the jar.',
    source: memory('national-center', 'jams and jellies, on inverting jars'),
  },
  {
    names: ['paraffin', 'wax', 'paraffin wax', 'wax seal', 'paraffin seal'],
    says: 'Wax shrinks and lets mould in, and mould can leave poison in the jam.',
    source: seen('usda-2015', 'Guide 1 p. 1-30'),
  },
  {
    names: ['multicooker', 'multi-cooker', 'electric multi-cooker', 'electric pressure cooker', 'electric cooker'],
    says: 'Tested times come from stove-top canners: an electric multi-cooker heats and cools in another way.',
    source: memory('national-center', 'on electric multi-cookers'),
  },
  {
    names: ['pressure cooker', 'pressure saucepan', 'small pressure cooker'],
    says: 'A pressure cooker that cannot hold four quart jars heats and cools too fast for the tested times.',
    source: seen('usda-2015', 'Guide 1 p. 1-35'),
  },
  {
    names: ['slow cooker', 'slow-cooker canning', 'crock pot'],
    says: 'A slow cooker never brings the middle of a jar to the heat that is needed.',
    source: memory('national-center', 'on slow cookers'),
  },
  {
    names: ['sun', 'solar canning', 'sun canning', 'solar'],
    says: 'The sun does not bring jars to a boil and hold them there.',
    source: memory('national-center', 'on canning in the sun'),
  },
]

const methodNames: readonly (readonly [MethodMeant, readonly string[]])[] = [
  [
    'boiling-water',
    [
      'boiling-water',
      'boiling-water canner',
      'boiling-water canned',
      'boiling-water canning',
      'boiling-water bath',
      'water bath',
      'water-bath canner',
      'water-bath-canned',
      'water-bath canning',
      'hot water bath',
    ],
  ],
  [
    'steam',
    [
      'steam',
      'steam canner',
      'steam-canned',
      'steam canning',
      'atmospheric steam',
      'atmospheric steam canner',
      'atmospheric steam canning',
    ],
  ],
  [
    'pressure',
    ['pressure', 'pressure canner', 'pressure-canned', 'pressure canning', 'steam pressure', 'steam-pressure canner'],
  ],
  [
    'dial-gauge',
    [
      'dial',
      'dial gauge',
      'dial-gauge canner',
      'dial-gauge pressure canner',
      'pressure dial',
      'pressure dial gauge',
      'pressure canner dial gauge',
    ],
  ],
  [
    'weighted-gauge',
    [
      'weighted',
      'weighted gauge',
      'weighted-gauge canner',
      'weighted-gauge pressure canner',
      'pressure weighted',
      'pressure weighted gauge',
      'pressure canner weighted gauge',
    ],
  ],
]

const jarNames: readonly (readonly [JarSize, readonly string[]])[] = [
  [
    'half-pint',
    ['half-pint', 'half pint jar', '1/2 pint', '1/2 pt', 'half pt', '8-ounce', '8 oz', '8-ounce jar', '8 fl oz'],
  ],
  ['12-ounce', ['12-ounce', '12 oz', '12-ounce jar', '12 fl oz', '3/4 pint', 'three-quarter pint']],
  [
    'pint',
    ['pint', 'pint jar', 'pt', 'pts', '16-ounce', '16 oz', '16-ounce jar', '16 fl oz', '1 pint', '1 pt', 'one pint'],
  ],
  [
    '1.5-pint',
    [
      '1.5-pint',
      '1.5 pt',
      '1 1/2 pint',
      '1 1/2 pt',
      'pint and a half',
      'one and a half pint',
      '24-ounce',
      '24 oz',
      '24-ounce jar',
      '24 fl oz',
    ],
  ],
  [
    'quart',
    [
      'quart',
      'quart jar',
      'qt',
      'qts',
      '32-ounce',
      '32 oz',
      '32-ounce jar',
      '32 fl oz',
      '1 quart',
      '1 qt',
      'one quart',
    ],
  ],
  [
    'half-gallon',
    [
      'half-gallon',
      'half-gallon jar',
      '1/2 gallon',
      '1/2 gal',
      'half gal',
      '64-ounce',
      '64 oz',
      '64 fl oz',
      '2 quart',
      '2 qt',
    ],
  ],
]

const packNames: readonly (readonly [PackStyle, readonly string[]])[] = [
  ['hot', ['hot', 'hot pack', 'hot-packed', 'hot packed']],
  ['raw', ['raw', 'raw pack', 'raw-packed', 'cold pack']],
]

const methods = index(methodNames)
const jars = new Map(jarNames.flatMap(([jar, names]) => names.map((name) => [spelledSize(name), jar] as const)))
const packs = index(packNames)
const unsafe = index(unsafeMethods.map((method) => [method, method.names] as const))

/** The method that a word stands for, or undefined. Only listed words count. */
export function methodMeant(text: string): MethodMeant | undefined {
  return methods.get(spelled(text))
}

/** The unsafe way that a word stands for, or undefined. */
export function unsafeMethod(text: string): UnsafeMethod | undefined {
  return unsafe.get(spelled(text))
}

/** The gauge that a word stands for, as the method it makes of a pressure canner, or undefined. */
export function gaugeMeant(text: string): 'dial-gauge' | 'weighted-gauge' | undefined {
  const meant = methods.get(spelled(text))
  return meant === 'dial-gauge' || meant === 'weighted-gauge' ? meant : undefined
}

/** The jar that a word stands for, or undefined: metric jars are no published size, and a larger one is not rounded. */
export function jarMeant(text: string): JarSize | undefined {
  return jars.get(spelledSize(text))
}

/** The pack that a word stands for, or undefined. */
export function packMeant(text: string): PackStyle | undefined {
  return packs.get(spelled(text))
}

function index<T>(list: readonly (readonly [T, readonly string[]])[]): ReadonlyMap<string, T> {
  return new Map(list.flatMap(([meaning, names]) => names.map((name) => [spelled(name), meaning] as const)))
}
