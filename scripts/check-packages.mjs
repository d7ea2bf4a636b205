// What the lock file must hold: the pinned embedded database, permissive licences in what the service ships, and no
// download addresses.
import { readFileSync } from 'node:fs'

const lock = JSON.parse(readFileSync(new URL('../package-lock.json', import.meta.url), 'utf8'))
const permissive =
  /^(MIT|MIT-0|ISC|0BSD|BSD-2-Clause|BSD-3-Clause|BSD-0-Clause|Apache-2\.0|BlueOak-1\.0\.0|Unlicense|CC0-1\.0|PostgreSQL|Python-2\.0)$/
// Packages whose own file does not name its licence in a word, read by hand at this version: permissive, too.
const readByHand = {
  'node_modules/png-js': '2.0.0', // MIT, in its LICENSE
  'node_modules/dejavu-fonts-ttf': '2.37.3', // Bitstream Vera, Arev and public domain: free to embed and pass on
}
const faults = []

for (const [path, entry] of Object.entries(lock.packages)) {
  if (path === '') continue
  if ('resolved' in entry) faults.push(`${path}: records a download address`)
  if (entry.dev || entry.devOptional || readByHand[path] === entry.version) continue
  const licence = String(entry.license ?? 'none stated').replaceAll(/[()]/g, '')
  const options = licence.split(' OR ')
  if (!options.some((option) => option.split(' AND ').every((part) => permissive.test(part)))) {
    faults.push(`${path}: licence ${licence}`)
  }
}

const pglite = lock.packages['node_modules/@electric-sql/pglite']?.version
if (pglite !== '0.5.14') faults.push(`@electric-sql/pglite at the top is ${pglite}, not 0.5.14`)
if (lock.packages['node_modules/pglite-prisma-adapter/node_modules/@electric-sql/pglite']) {
  faults.push('pglite-prisma-adapter has a PGlite of its own: unique violations would lose their code')
}

for (const fault of faults) console.error(fault)
process.exit(faults.length > 0 ? 1 : 0)
