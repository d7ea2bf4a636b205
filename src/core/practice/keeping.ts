import { type Citation, memory, seen } from '../process/sources.ts'

export const keepingPlaces = ['shelf', 'refrigerator', 'freezer'] as const
export type KeepingPlace = (typeof keepingPlaces)[number]

/** How long something put up is at its best. Days, low and high, as published; the low one is what a label says. */
export type Keeping = {
  what: string
  place: KeepingPlace
  opened: boolean
  days: readonly [number, number]
  source: Citation
}

const canningGuide = seen('usda-2015', 'Guide 1 p. 1-11, 1-12, 1-26', 'stored at 10 to 21 °C, never above 35 °C')

/** Lives of what is put up. A "month" of the sources counts as 30 days, a year as 365. */
export const keepings: readonly Keeping[] = [
  keeps('home-canned food', 'shelf', 365, 365, canningGuide),
  keeps('home-canned salsa', 'shelf', 270, 365, seen('foodkeeper', 'Condiments')),
  keeps('home-canned tomato sauce', 'shelf', 270, 365, seen('foodkeeper', 'Condiments')),
  keeps(
    'jam, jelly or preserves',
    'shelf',
    180,
    540,
    seen('foodkeeper', 'Condiments', 'the guide asks to use any home-canned food within a year'),
  ),
  keeps('pickles', 'shelf', 365, 365, seen('foodkeeper', 'Condiments')),
  keeps('canned food of high acid', 'refrigerator', 5, 7, seen('foodkeeper', 'Shelf Stable Foods'), true),
  keeps('canned food of low acid', 'refrigerator', 3, 4, seen('foodkeeper', 'Shelf Stable Foods'), true),
  keeps('jam, jelly or preserves', 'refrigerator', 180, 365, seen('foodkeeper', 'Condiments'), true),
  keeps('pickles', 'refrigerator', 30, 90, seen('foodkeeper', 'Condiments'), true),
  keeps('applesauce', 'refrigerator', 21, 21, seen('foodkeeper', 'Produce', 'home-made')),
  keeps('applesauce', 'freezer', 240, 365, seen('foodkeeper', 'Produce', 'home-made')),
  keeps('fresh apple juice', 'refrigerator', 6, 6, seen('foodkeeper', 'Beverages')),
  keeps('fresh apple juice', 'freezer', 365, 365, seen('foodkeeper', 'Beverages')),
  keeps('kimchi', 'refrigerator', 180, 365, seen('foodkeeper', 'Produce')),
  keeps(
    'spread set with gelatin',
    'refrigerator',
    28,
    28,
    seen('usda-2015', 'Guide 7 p. 7-12', 'never processed or frozen'),
  ),
  keeps('fermented dill pickles', 'refrigerator', 120, 180, seen('usda-2015', 'Guide 6 p. 6-7', 'in their brine')),
  keeps(
    'sauerkraut',
    'refrigerator',
    90,
    180,
    memory('usda-2015', 'Guide 6 p. 6-8', 'printed: several months; taken as three to six'),
  ),
  keeps(
    'dried fruit',
    'shelf',
    180,
    365,
    seen('national-center', 'Packaging and storing dried foods', 'half a year at 27 °C, a year at 16 °C'),
  ),
  keeps(
    'dried vegetables',
    'shelf',
    90,
    180,
    seen('national-center', 'Packaging and storing dried foods', 'half of dried fruit'),
  ),
  keeps('frozen fruit', 'freezer', 365, 365, seen('delaware-freezing', undefined, 'at -18 °C')),
  keeps('frozen vegetables', 'freezer', 240, 365, memory('national-center', 'freezing, general')),
]

/** The months for which home-canned food is put on a label, whatever longer lives are printed for bought cans. */
export const homeCannedMonths: { months: number; source: Citation } = { months: 12, source: canningGuide }
/** Above this a shelf is too warm for jars; and the temperatures at which they keep best, degrees Celsius. */
export const jarShelf = { bestC: [10, 21], mostC: 35, source: canningGuide } as const

/** Unused lids still seal for at least so many years from when they were made. */
export const unusedLids: { years: number; source: Citation } = {
  years: 5,
  source: seen('usda-2015', 'Guide 1 p. 1-15'),
}

/** Things to know about a jar as it stands, in weeks. */
export const restingTimes = [
  {
    what: 'bread-and-butter and quick sweet pickles',
    says: 'better after',
    weeks: [4, 5],
    source: seen('usda-2015', 'Guide 6 p. 6-9'),
  },
  {
    what: 'raw-packed fruit',
    says: 'may discolour after',
    weeks: [9, 13],
    source: seen('usda-2015', 'Guide 1 p. 1-12', '2 to 3 months'),
  },
] as const

/** How long something keeps in a place, unopened unless said; null: nothing is published here, and nothing is assumed. */
export function keepingOf(what: string, place: KeepingPlace, opened = false): Keeping | null {
  return keepings.find((one) => one.what === what && one.place === place && one.opened === opened) ?? null
}

function keeps(
  what: string,
  place: KeepingPlace,
  low: number,
  high: number,
  source: Citation,
  opened = false,
): Keeping {
  return { what, place, opened, days: [low, high], source }
}
