import { parseArgs } from 'node:util'
import { batchCode, knownSheets, labelText } from '../../src/core/labels/index.ts'
import { labelSheet, type SheetLabel } from '../../src/web/labels/index.ts'

// How long one full sheet of every known geometry takes: `npm run bench:labels -- --rounds 20`.
//
// Once with the jars of one batch, whose words are set once, and once with a different batch on every label. Seconds are
// this process's own processor time, so that a busy machine spoils the figures less; reading the fonts for the first time
// is told apart.

const { values } = parseArgs({ options: { rounds: { type: 'string', default: '10' } } })
const rounds = Number(values.rounds)
const facts = { title: 'Labels', lang: 'en', created: new Date('2026-09-14T10:00:00Z') }
const names = [
  'Damson jam',
  'Žluťoučký rybíz',
  'Μαρμελάδα σύκο',
  'Green tomato and courgette chutney with mustard seeds',
]

function labelsOf(count: number, batches: number): SheetLabel[] {
  return Array.from({ length: count }, (_, index) => {
    const code = batchCode(index % batches)
    const lines = labelText(
      {
        product: names[(index % batches) % names.length] ?? '',
        variety: 'Shropshire Prune',
        madeOn: '2026-09-14',
        bestBy: '2027-09-14',
        jar: { name: 'Pint jar', ml: 473.18 },
        batchCode: code,
        household: null,
        allergens: ['mustard', 'celery'],
        cautions: [],
        shelfLife: 'shelf',
        useWithinDays: 5,
      },
      'us',
    )
    return { lines, qr: `https://larkrise.example/jars/${code}?jar=${index + 1}` }
  })
}

async function usedMs(work: () => Promise<Buffer>): Promise<{ ms: number; bytes: number }> {
  const before = process.cpuUsage()
  const { length } = await work()
  const { user, system } = process.cpuUsage(before)
  return { ms: (user + system) / 1000, bytes: length }
}

const [sheet] = knownSheets
if (sheet === undefined) throw new Error('no sheets')
const first = await usedMs(() => labelSheet(sheet.geometry, labelsOf(24, 24), facts))
console.log(`the first sheet of the process, fonts read: ${first.ms.toFixed(0)} ms`)
console.log('labels  one batch: median, worst ms   all different: median, worst ms    KB  sheet')
for (const { name, geometry } of knownSheets) {
  const count = geometry.columns * geometry.rows
  const columns: string[] = []
  let bytes = 0
  for (const batches of [1, count]) {
    const times: number[] = []
    for (let round = 0; round < rounds; round++) {
      const used = await usedMs(() => labelSheet(geometry, labelsOf(count, batches), facts))
      times.push(used.ms)
      bytes = used.bytes
    }
    times.sort((a, b) => a - b)
    columns.push(
      `${(times[Math.floor(times.length / 2)] ?? 0).toFixed(0).padStart(20)}${(times.at(-1) ?? 0).toFixed(0).padStart(8)}`,
    )
  }
  console.log(`${String(count).padStart(6)}${columns.join('  ')}  ${(bytes / 1000).toFixed(0).padStart(6)}  ${name}`)
}
