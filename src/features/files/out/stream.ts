import { Readable } from 'node:stream'
import type { TransactionClient } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import { columns, type Table } from '../columns.ts'
import { byteOrderMark, writeCsv } from '../csv.ts'
import { ledgerRows, lotRows, type PageOf, type StockKey, stockRows } from './queries.ts'

/** So many rows are in memory at once. */
export const ROWS_AT_ONCE = 5_000

/** A table as CSV, read and written page by page while it is sent. */
export function csvStream(
  prisma: TransactionClient,
  asking: Pick<Asking, 'coopId'>,
  table: Table,
  { mark, rowsAtOnce = ROWS_AT_ONCE }: { mark: boolean; rowsAtOnce?: number },
): Readable {
  return Readable.from(chunks(table, mark, pagesOf(prisma, asking, table, rowsAtOnce)))
}

async function* chunks(table: Table, mark: boolean, pages: AsyncIterable<PageOf<unknown>>): AsyncGenerator<string> {
  yield `${mark ? byteOrderMark : ''}${writeCsv([columns[table]])}`
  for await (const { rows } of pages) if (rows.length > 0) yield writeCsv(rows)
}

function pagesOf(
  prisma: TransactionClient,
  asking: Pick<Asking, 'coopId'>,
  table: Table,
  take: number,
): AsyncIterable<PageOf<unknown>> {
  switch (table) {
    case 'stock':
      return following<StockKey>((after) => stockRows(prisma, asking, after, take))
    case 'ledger':
      return following<number>((after) => ledgerRows(prisma, asking, after, take))
    case 'lots':
      return following<string>((after) => lotRows(prisma, asking, after, take))
  }
}

/** One page after the other, each from the last one's key. */
async function* following<K>(read: (after: K | null) => Promise<PageOf<K>>): AsyncGenerator<PageOf<K>> {
  let after: K | null = null
  do {
    const page: PageOf<K> = await read(after)
    yield page
    after = page.next
  } while (after !== null)
}
