import { strToU8, Zip, ZipDeflate } from 'fflate'
import type { MigratableDatabase } from '../../db/migrate.ts'
import { takeTables } from '../../keeping/taking-out.ts'
import { writeCsv } from '../files/index.ts'

const READ_ME = `Every table of the co-op as CSV (RFC 4180, UTF-8), one file each, the names of its columns in the first line.
Weights are whole grams, money the smallest unit of the currency, minutes of a day counted from midnight.
Times are ISO 8601, lists and documents JSON, an empty cell is nothing. Hashes of passwords and other secrets are left out.
A cell that a spreadsheet would take for a formula has an apostrophe in front.
`

/**
 * All tables of a co-op as CSV files in a ZIP archive, as they are at one moment; whole, in memory, where it takes about as
 * much room as it will in the file.
 */
export async function coopAsZip(database: MigratableDatabase, coopId: string): Promise<Buffer> {
  const kept: Uint8Array[] = []
  let failure: Error | undefined
  const zip = new Zip((error, chunk) => {
    if (error) failure = error
    else kept.push(chunk)
  })
  const file = (name: string): ZipDeflate => {
    const added = new ZipDeflate(name, { level: 6 })
    zip.add(added)
    return added
  }
  file('READ-ME.txt').push(strToU8(READ_ME), true)
  await takeTables(database, coopId, async ({ name, rows }) => {
    const table = file(`${name}.csv`)
    for await (const some of rows) table.push(strToU8(writeCsv(some)))
    table.push(new Uint8Array(), true)
  })
  zip.end()
  if (failure !== undefined) throw failure
  return Buffer.concat(kept)
}
