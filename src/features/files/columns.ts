/** Tables that go out, and what stands over their columns. Those that come in again are read by these words. */
export const columns = {
  stock: [
    'code',
    'product',
    'variety',
    'pack',
    'unit',
    'kept',
    'made on',
    'best by',
    'place',
    'household',
    'units',
    'recalled',
  ],
  ledger: [
    'entry',
    'at',
    'what',
    'units',
    'then left',
    'code',
    'product',
    'place',
    'owner',
    'supply',
    'household',
    'written by',
    'note',
    'takes back entry',
  ],
  lots: [
    'lot',
    'came in on',
    'crop',
    'variety',
    'weight',
    'weight as typed',
    'ripeness',
    'storage',
    'source',
    'brought by',
    'household',
    'price',
    'note',
    'closed on',
  ],
} as const

export const tables = ['stock', 'ledger', 'lots'] as const
export type Table = (typeof tables)[number]

/** Tables that can be brought in. */
export const tablesIn = ['stock', 'ledger', 'lots'] as const
export type TableIn = (typeof tablesIn)[number]
