import { openDatabase } from '../../src/db/client.ts'
import { migrateDatabase } from '../../src/db/migrate.ts'
import { readMigrations } from '../../src/db/migration-files.ts'

// A process of its own for the test of a migration that is cut off: brings a database to this program's schema and one
// migration beyond it, which takes its time between two statements.

const [place, sql] = process.argv.slice(2)
if (place === undefined || sql === undefined) throw new Error('Say which database and which SQL.')
const database = await openDatabase(place.startsWith('postgres') ? { url: place } : { dataDir: place })
process.stdout.write('open\n')
const migrations = [...(await readMigrations()), { name: '29990101000000_further', sql }]
const applied = await migrateDatabase(database, { migrations })
process.stdout.write(`applied ${applied.join(' ')}\n`)
await database.close()
