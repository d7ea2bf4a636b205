import { lotsPath } from '../lots/paths.ts'
import { ledgerPath, shelfPath } from '../shelf/paths.ts'
import type { Table } from './columns.ts'
import { csvImportPath, csvPath, filesPath } from './paths.ts'

const says: Record<Table, { name: string; says: string; in: string; shown: string }> = {
  stock: {
    name: 'Stock',
    says: 'what is there: batches, places, whose, how many',
    in: csvImportPath('stock'),
    shown: shelfPath(),
  },
  ledger: {
    name: 'Ledger',
    says: 'who put, took and moved what, every entry; what was taken comes in',
    in: csvImportPath('ledger'),
    shown: ledgerPath(),
  },
  lots: { name: 'Lots', says: 'what came in, from whom, when', in: csvImportPath('lots'), shown: lotsPath() },
}

/** Every table with where it is taken out and brought in. */
export function filesPage() {
  return {
    title: 'Tables',
    place: 'shelf' as const,
    rows: (['stock', 'ledger', 'lots'] as const).map((table) => ({
      ...says[table],
      out: csvPath(table),
      marked: `${csvPath(table)}?mark=yes`,
    })),
    here: filesPath(),
    back: shelfPath(),
  }
}
