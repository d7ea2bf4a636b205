/** A name that could be more than one food, or a food that is only counted with another one here. */
export type UnclearName = { names: readonly string[]; says: string; instead: readonly string[] }

/**
 * Names under which a crop is weighed and aged here, but that no table prints, or that could be another food. A table is
 * not stretched to them.
 */
export const countedOnly: Readonly<Record<string, readonly string[]>> = {
  apple: ['crab apple', 'crab apples'],
  raspberry: ['wineberries'],
  blackberry: ['boysenberries'],
  blueberry: ['bilberry', 'bilberries', 'huckleberries'],
  cranberry: ['lingonberry', 'lingonberries'],
  'snap-bean': ['runner beans'],
}

/** Names that say too little: the foods they may mean have different times. */
export const unclear: readonly UnclearName[] = [
  {
    names: ['bean', 'beans', 'butter beans'],
    says: 'Snap beans, fresh lima beans and dried beans each have their own time.',
    instead: ['say which: "snap beans", "lima beans" or "dried beans"'],
  },
  {
    names: ['squash', 'squashes'],
    says: 'Winter squash has a table, summer squash has none.',
    instead: ['say which: "winter squash" or "summer squash"'],
  },
  {
    names: ['chili', 'chilis'],
    says: 'Chili can be the pepper or the dish, and the dish takes much longer.',
    instead: ['say which: "hot peppers" or "chile con carne"'],
  },
  {
    names: ['corn on the cob', 'ears of corn'],
    says: 'Corn is tested as kernels and cream style; no time is known for whole cobs in jars.',
    instead: ['cut the kernels off: "corn, whole kernel"', 'freeze the cobs'],
  },
  {
    names: ['stock', 'broth', 'vegetable stock', 'vegetable broth'],
    says: 'Meat stock has a table, vegetable stock has none.',
    instead: ['say which: "meat stock"', 'freeze vegetable stock'],
  },
]
