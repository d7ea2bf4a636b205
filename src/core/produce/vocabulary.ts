/**
 * The closed sets everything else is built from. This file imports nothing.
 */

/** Ripeness classes in the order in which produce passes through them; `damaged` is sound after trimming. */
export const ripenessClasses = ['firm', 'ripe', 'soft', 'damaged'] as const
export type RipenessClass = (typeof ripenessClasses)[number]

/** Where a lot waits: a kitchen or porch, a cellar, a refrigerator or cold room. */
export const storages = ['room', 'cool', 'cold'] as const
export type Storage = (typeof storages)[number]

/** How a lot came to the co-op. */
export const lotSources = ['donated', 'bought', 'own-trees', 'gleaned'] as const
export type LotSource = (typeof lotSources)[number]

/** Ways to keep produce. `fresh` is eaten as it is. */
export const methods = [
  'water-bath-canned',
  'pressure-canned',
  'frozen',
  'dried',
  'fermented',
  'juiced',
  'refrigerated',
  'fresh',
] as const
export type Method = (typeof methods)[number]

/** What leaves a batch as by-product. `peels-cores` can become vinegar or feed; `stones-stems` only compost. */
export const trimKinds = ['peels-cores', 'pomace', 'stones-stems'] as const
export type TrimKind = (typeof trimKinds)[number]

/** Where trim and leftovers go, in falling order of use. */
export const outletKinds = ['juice', 'vinegar', 'feed', 'compost'] as const
export type OutletKind = (typeof outletKinds)[number]

/**
 * Machines and places of which a kitchen has only so many. `hands` are counted apart. A `canner` boils water over the
 * jars; what works by pressure or by steam is a kind of its own, as other processes are tested for it.
 */
export const equipmentKinds = [
  'canner',
  'pressure-canner',
  'steam-canner',
  'burner',
  'oven',
  'dehydrator',
  'press',
  'freezer',
] as const
export type EquipmentKind = (typeof equipmentKinds)[number]

/** Kinds of work a helper may do; minutes of hands are counted by these. */
export const workKinds = ['wash', 'cut', 'stove', 'fill', 'pack'] as const
export type WorkKind = (typeof workKinds)[number]

/** Places of work. */
export const stations = ['wash', 'cut', 'press', 'stove', 'fill', 'canner', 'oven', 'freezer', 'label'] as const
export type Station = (typeof stations)[number]

/** Age bands of helpers. Which work each may do is a rule of the core, not of a page. */
export const ageBands = ['child', 'teen', 'adult'] as const
export type AgeBand = (typeof ageBands)[number]
