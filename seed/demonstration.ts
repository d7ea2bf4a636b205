import type { Gauge } from '../src/core/process/index.ts'
import type {
  AgeBand,
  EquipmentKind,
  LotSource,
  OutletKind,
  RipenessClass,
  Station,
  Storage,
  WorkKind,
} from '../src/core/produce/vocabulary.ts'

/**
 * The demonstration co-op. Town, people and produce are invented. Dates are counted from the day of the first start,
 * so that the produce is always fresh and the work days always lie ahead.
 */
export const coop = {
  id: 'larkrise-lane',
  name: 'Larkrise Lane Kitchen',
  town: 'Upper Ansley',
  altitudeM: 640,
  timeZone: 'America/New_York',
  locale: 'en-US',
  units: 'metric',
  currency: 'USD',
  demonstration: true,
} as const

export const households = ['Fenwick', 'Odell', 'Marsh', 'Hallam', 'Quillfeather'] as const

/** Whoever comes by the demonstration enters it as one of these. */
export const members = [
  { name: 'Mara Fenwick', household: 'Fenwick', role: 'steward' },
  { name: 'Ines Odell', household: 'Odell', role: 'planner' },
  { name: 'Wilfred Marsh', household: 'Marsh', role: 'member' },
  { name: 'Suri Hallam', household: 'Hallam', role: 'helper' },
] as const

/** Who did what the demonstration finds done. */
export const steward = members[0]

export type SeedLot = {
  crop: string
  variety: string | null
  source: LotSource
  broughtBy: string
  household: string | null
  arrivedDaysAgo: number
  storage: Storage
  weightTyped: string
  grams: Record<RipenessClass, number>
  setAsideGrams: number
  lostGrams: number
  priceMinor: number | null
  note: string | null
}

export const lots: SeedLot[] = [
  {
    crop: 'damson',
    variety: 'hedge damson',
    source: 'own-trees',
    broughtBy: 'Mara Fenwick',
    household: 'Fenwick',
    arrivedDaysAgo: 1,
    storage: 'cold',
    weightTyped: '38 kg',
    grams: { firm: 12_000, ripe: 20_000, soft: 2_400, damaged: 2_000 },
    setAsideGrams: 1_000,
    lostGrams: 600,
    priceMinor: null,
    note: 'Picked before the storm; the lower branches were wet.',
  },
  {
    crop: 'apple',
    variety: 'Lane Russet',
    source: 'donated',
    broughtBy: 'Wilfred Marsh',
    household: 'Marsh',
    arrivedDaysAgo: 3,
    storage: 'cool',
    weightTyped: '65 kg',
    grams: { firm: 33_000, ripe: 24_000, soft: 2_500, damaged: 3_500 },
    setAsideGrams: 2_000,
    lostGrams: 0,
    priceMinor: null,
    note: 'Windfalls on top, picked fruit underneath.',
  },
  {
    crop: 'tomato',
    variety: null,
    source: 'gleaned',
    broughtBy: 'Ines Odell',
    household: 'Odell',
    arrivedDaysAgo: 1,
    storage: 'room',
    weightTyped: '42 kg',
    grams: { firm: 12_000, ripe: 24_000, soft: 3_500, damaged: 1_500 },
    setAsideGrams: 0,
    lostGrams: 1_000,
    priceMinor: null,
    note: null,
  },
  {
    crop: 'peach',
    variety: 'late yellow',
    source: 'bought',
    broughtBy: 'Suri Hallam',
    household: 'Hallam',
    arrivedDaysAgo: 0,
    storage: 'cool',
    weightTyped: '24 kg',
    grams: { firm: 11_000, ripe: 11_500, soft: 900, damaged: 600 },
    setAsideGrams: 0,
    lostGrams: 0,
    priceMinor: 5_400,
    note: 'Seconds from the roadside stand.',
  },
  {
    crop: 'blackberry',
    variety: null,
    source: 'gleaned',
    broughtBy: 'Bea and Tobias',
    household: 'Marsh',
    arrivedDaysAgo: 0,
    storage: 'cold',
    weightTyped: '8.5 kg',
    grams: { firm: 0, ripe: 7_000, soft: 1_000, damaged: 0 },
    setAsideGrams: 500,
    lostGrams: 0,
    priceMinor: null,
    note: null,
  },
  {
    crop: 'onion',
    variety: null,
    source: 'own-trees',
    broughtBy: 'Gus Quillfeather',
    household: 'Quillfeather',
    arrivedDaysAgo: 12,
    storage: 'cool',
    weightTyped: '9 kg',
    grams: { firm: 9_000, ripe: 0, soft: 0, damaged: 0 },
    setAsideGrams: 0,
    lostGrams: 0,
    priceMinor: null,
    note: 'From the garden, cured.',
  },
]

/**
 * Work days, counted from the day of the first start; minutes from midnight. Two in a row: in the night between them
 * jars cool, slices dry and juice for jelly drips.
 */
export const workDays = [
  { inDays: 1, opensMinute: 8 * 60, closesMinute: 18 * 60, note: 'Everybody who can' },
  { inDays: 2, opensMinute: 9 * 60, closesMinute: 17 * 60, note: 'The hall is let in the evening' },
] as const

export type SeedMachine = {
  kind: EquipmentKind
  name: string
  count: number
  roomMl: number | null
  aroundTheClock: boolean
  gauge: Gauge | null
  insideWidthMm: number | null
  insideHeightMm: number | null
  /** Jars of each size that one load takes; empty: as many as recipes say. */
  holds: Record<string, number>
  /** Minutes until a full one is ready for its process; null: the published middle. */
  comeUpMinutes: number | null
}

const machine = (kind: EquipmentKind, name: string, count = 1, more: Partial<SeedMachine> = {}): SeedMachine => ({
  kind,
  name,
  count,
  roomMl: null,
  aroundTheClock: false,
  gauge: null,
  insideWidthMm: null,
  insideHeightMm: null,
  holds: {},
  comeUpMinutes: null,
  ...more,
})

export const equipment: SeedMachine[] = [
  machine('canner', 'boiling-water canner, 7 quarts', 1, {
    insideWidthMm: 320,
    insideHeightMm: 255,
    holds: { quart: 7, pint: 9, 'half-pint': 12 },
    comeUpMinutes: 25,
  }),
  machine('pressure-canner', 'pressure canner from the Odells', 1, {
    gauge: 'dial',
    insideWidthMm: 310,
    insideHeightMm: 270,
  }),
  machine('burner', 'gas burners', 4),
  machine('oven', 'range oven'),
  machine('dehydrator', 'five-tray dehydrator', 1, { aroundTheClock: true }),
  machine('press', 'basket press'),
  machine('freezer', 'chest freezer in the annex', 1, { roomMl: 45_000, aroundTheClock: true }),
]

export const helpers: {
  name: string
  household: string
  ageBand: AgeBand
  skills: WorkKind[]
  /** From and to in minutes for each work day, in order; null: not there. */
  hours: ([number, number] | null)[]
  /** A meal for each work day, likewise. */
  breaks: ([number, number] | null)[]
  /** 100 is usual. */
  speedPercent: number
  /** Longest at one station; null: does not tire. */
  stretchMinutes: number | null
  likes: Station[]
  dislikes: Station[]
}[] = [
  {
    name: 'Mara Fenwick',
    household: 'Fenwick',
    ageBand: 'adult',
    skills: ['wash', 'cut', 'stove', 'fill', 'pack'],
    hours: [
      [480, 1080],
      [540, 1020],
    ],
    breaks: [
      [750, 780],
      [750, 780],
    ],
    speedPercent: 100,
    stretchMinutes: null,
    likes: ['stove'],
    dislikes: [],
  },
  {
    name: 'Wilfred Marsh',
    household: 'Marsh',
    ageBand: 'adult',
    skills: ['wash', 'cut', 'pack'],
    hours: [
      [480, 840],
      [540, 840],
    ],
    breaks: [
      [720, 750],
      [720, 750],
    ],
    speedPercent: 80,
    stretchMinutes: 120,
    likes: ['cut', 'label'],
    dislikes: ['wash'],
  },
  {
    name: 'Ines Odell',
    household: 'Odell',
    ageBand: 'adult',
    skills: ['wash', 'cut', 'stove', 'fill', 'pack'],
    hours: [
      [480, 1020],
      [600, 1020],
    ],
    breaks: [
      [780, 810],
      [720, 750],
    ],
    speedPercent: 110,
    stretchMinutes: null,
    likes: ['canner'],
    dislikes: [],
  },
  {
    name: 'Suri Hallam',
    household: 'Hallam',
    ageBand: 'adult',
    skills: ['wash', 'cut', 'stove', 'fill', 'pack'],
    hours: [
      [600, 1080],
      [540, 1020],
    ],
    breaks: [
      [750, 780],
      [780, 810],
    ],
    speedPercent: 100,
    stretchMinutes: 180,
    likes: ['fill'],
    dislikes: ['stove'],
  },
  {
    name: 'Tobias Hallam',
    household: 'Hallam',
    ageBand: 'teen',
    skills: ['wash', 'cut', 'fill', 'pack'],
    hours: [
      [600, 960],
      [600, 960],
    ],
    breaks: [
      [780, 810],
      [780, 810],
    ],
    speedPercent: 90,
    stretchMinutes: 90,
    likes: ['fill'],
    dislikes: ['cut'],
  },
  {
    name: 'Bea Marsh',
    household: 'Marsh',
    ageBand: 'child',
    skills: ['wash', 'pack'],
    hours: [
      [600, 720],
      [600, 720],
    ],
    breaks: [null, null],
    speedPercent: 60,
    stretchMinutes: 45,
    likes: ['label', 'wash'],
    dislikes: [],
  },
]

export const supplies = [
  {
    key: 'jar-quart',
    name: 'quart jars',
    unit: 'jar',
    onHand: 34,
    packSize: 12,
    packPriceMinor: 1_650,
    packsAtMost: 4,
  },
  { key: 'jar-pint', name: 'pint jars', unit: 'jar', onHand: 52, packSize: 12, packPriceMinor: 1_350, packsAtMost: 4 },
  {
    key: 'jar-half-pint',
    name: 'half-pint jars',
    unit: 'jar',
    onHand: 40,
    packSize: 12,
    packPriceMinor: 1_150,
    packsAtMost: 5,
  },
  { key: 'lid', name: 'lids', unit: 'lid', onHand: 96, packSize: 12, packPriceMinor: 420, packsAtMost: 12 },
  { key: 'sugar', name: 'sugar', unit: 'g', onHand: 9_000, packSize: 2_000, packPriceMinor: 260, packsAtMost: 12 },
  {
    key: 'lemon-juice',
    name: 'bottled lemon juice',
    unit: 'ml',
    onHand: 500,
    packSize: 450,
    packPriceMinor: 340,
    packsAtMost: 6,
  },
  {
    key: 'cider-vinegar',
    name: 'cider vinegar, 5 %',
    unit: 'ml',
    onHand: 1_000,
    packSize: 946,
    packPriceMinor: 310,
    packsAtMost: 8,
  },
  {
    key: 'cook-type-starch',
    name: 'modified starch for canning',
    unit: 'g',
    onHand: 450,
    packSize: 450,
    packPriceMinor: 780,
    packsAtMost: 2,
  },
  { key: 'salt', name: 'canning salt', unit: 'g', onHand: 1_200, packSize: 1_360, packPriceMinor: 290, packsAtMost: 2 },
  { key: 'pectin', name: 'powdered pectin', unit: 'g', onHand: 98, packSize: 49, packPriceMinor: 310, packsAtMost: 8 },
  {
    key: 'vinegar',
    name: 'white vinegar, 5 %',
    unit: 'ml',
    onHand: 3_800,
    packSize: 3_785,
    packPriceMinor: 420,
    packsAtMost: 2,
  },
  {
    key: 'ascorbic-acid',
    name: 'ascorbic acid',
    unit: 'g',
    onHand: 60,
    packSize: 50,
    packPriceMinor: 540,
    packsAtMost: 2,
  },
  {
    key: 'freezer-bag',
    name: 'freezer bags',
    unit: 'bag',
    onHand: 24,
    packSize: 20,
    packPriceMinor: 380,
    packsAtMost: 3,
  },
] as const

export const outlets: {
  kind: OutletKind
  name: string
  capacityGrams: number | null
  worthPerKgMinor: number
  takesProduce: boolean
  crops: string[]
  classes: RipenessClass[]
  materials: string[]
}[] = [
  {
    kind: 'juice',
    name: 'Cider press at the Hallams',
    capacityGrams: 20_000,
    worthPerKgMinor: 25,
    takesProduce: true,
    crops: ['apple'],
    classes: ['firm', 'ripe', 'damaged'],
    materials: [],
  },
  {
    kind: 'vinegar',
    name: 'Vinegar barrel in the shed',
    capacityGrams: 12_000,
    worthPerKgMinor: 15,
    takesProduce: true,
    crops: ['apple', 'peach', 'damson', 'blackberry'],
    classes: ['ripe', 'soft'],
    materials: ['peels-cores', 'apple-juice'],
  },
  {
    kind: 'feed',
    name: "Odell's two pigs",
    capacityGrams: 25_000,
    worthPerKgMinor: 5,
    takesProduce: true,
    crops: ['apple', 'peach', 'tomato', 'blackberry'],
    classes: ['firm', 'ripe', 'soft', 'damaged'],
    materials: ['peels-cores', 'pomace'],
  },
  {
    kind: 'compost',
    name: 'Compost behind the hall',
    capacityGrams: null,
    worthPerKgMinor: 0,
    takesProduce: true,
    crops: [],
    classes: ['firm', 'ripe', 'soft', 'damaged'],
    materials: ['peels-cores', 'pomace', 'stones-stems', 'apple-juice'],
  },
]

export const plan = {
  name: 'The damson week',
  budgetMinor: 15_000,
  /** Recipe, pack, at least, about, at most, how much it matters. */
  wishes: [
    ['Damson jam', 'half-pint', 24, 36, 60, 3],
    ['Quick damson pickle', 'pint', 0, 4, 8, 1],
    ['Peach slices in light syrup', 'quart', 7, 14, 14, 3],
    ['Peaches to eat fresh', 'kilo', 2, 4, 6, 3],
    ['Apple sauce', 'quart', 7, 14, 21, 2],
    ['Apple pie filling', 'quart', 0, 7, 14, 2],
    ['Apple juice for jelly', 'litre', 0, 4, 8, 1],
    ['Apple jelly', 'half-pint', 0, 10, 15, 3],
    ['Dried apple slices', 'bag-200g', 0, 6, 9, 2],
    ['Apple and blackberry leather', 'tray', 2, 6, 9, 2],
    ['Blackberry jam', 'half-pint', 0, 12, 24, 2],
    ['Crushed tomatoes', 'quart', 7, 14, 21, 3],
    ['Frozen diced tomatoes', 'bag-1kg', 0, 6, 10, 1],
    ['Vinegar from cores and peels', 'litre', 0, 6, 10, 1],
    ['Apples to eat fresh', 'kilo', 3, 5, 8, 1],
  ] as const satisfies readonly (readonly [string, string, number, number, number, 1 | 2 | 3])[],
}
