import { openDatabase } from '../../src/db/client.ts'

// A process of its own for the tests of the lock and of sudden death: opens the data folder
// (or the server's database), prints "open", and then,
// when told to, adds lots as fast as it can, printing the id of each one acknowledged.

const [place, coopId, from] = process.argv.slice(2)
try {
  if (place === undefined) throw new Error('Say which data folder, or which database.')
  const database = await openDatabase(place.startsWith('postgres') ? { url: place } : { dataDir: place })
  process.stdout.write('open\n')
  if (coopId !== undefined) {
    for (let number = Number(from); ; number += 1) {
      const lot = await database.prisma.lot.create({
        data: {
          coopId,
          id: `lot-${number}`,
          crop: 'damson',
          source: 'gleaned',
          broughtBy: 'Wren Tolley',
          arrivedOn: new Date('2026-09-12'),
          storage: 'cool',
          weightGrams: number,
          weightTyped: `${number} g`,
        },
      })
      process.stdout.write(`${lot.id}\n`)
    }
  }
} catch (error) {
  process.stderr.write(`${error instanceof Error ? `${error.name}: ${error.message}` : String(error)}\n`)
  process.exit(1)
}
