/** What a batch must be kept in: a jar on a shelf, the refrigerator, the freezer, dry and dark. */
export const keepings = ['shelf', 'refrigerator', 'freezer', 'dry'] as const
export type Keeping = (typeof keepings)[number]

export const placeKinds = ['pantry', 'cellar', 'freezer', 'refrigerator'] as const
export type PlaceKind = (typeof placeKinds)[number]

/**
 * Whether a place of this kind keeps it: frozen things only in a freezer, what needs the cold only in a refrigerator or
 * freezer. Sealed jars and dried things may stand anywhere but in a freezer, where glass cracks and a seal can lift.
 */
export function keepsIn(keeping: Keeping, kind: PlaceKind): boolean {
  switch (keeping) {
    case 'freezer':
      return kind === 'freezer'
    case 'refrigerator':
      return kind === 'refrigerator' || kind === 'freezer'
    case 'shelf':
      return kind !== 'freezer'
    case 'dry':
      return true
  }
}
