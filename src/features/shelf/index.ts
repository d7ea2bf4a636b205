export { lowLines, shelfLine } from './first/pages.ts'
export { listFirst, listUse, type ProductUse } from './first/queries.ts'
export {
  countStock,
  type EntryKind,
  entryKinds,
  jarBatchFor,
  MOST_HELD,
  moveUnits,
  type NewEntry,
  type Stocked,
  takingKinds,
  undoEntry,
  writeEntry,
} from './ledger.ts'
export {
  type Counted,
  countStocks,
  jarBatchesFor,
  type LineKey,
  lockedShort,
  type Needed,
  type Short,
  writeEntries,
} from './many/queries.ts'
export { bestByWords, keepingWords, listOf, placeKindWords, unitsText } from './words.ts'
