import { describe, expect, test } from 'vitest'
import { chainTo, type Imports, readImports, readSource } from './imports.ts'

// main > app > features > core; features > web, jobs, db; jobs > core; web knows no feature.
const mayImport: Record<string, string[]> = {
  core: ['core'],
  jobs: ['jobs', 'core', 'errors.ts'],
  db: ['db', 'core', 'errors.ts', 'clock.ts', 'ids.ts', 'jobs/worker-options.ts'],
  web: ['web', 'core', 'db', 'jobs', 'errors.ts', 'clock.ts', 'ids.ts', 'settings.ts'],
  keeping: ['keeping', 'db', 'core', 'web/events.ts', 'errors.ts', 'clock.ts', 'ids.ts', 'settings.ts'],
  features: ['features', 'web', 'jobs', 'keeping', 'db', 'core', 'errors.ts', 'clock.ts', 'ids.ts', 'settings.ts'],
}
/** What one feature may use of another. */
const openFiles = ['paths.ts', 'access.ts', 'queries.ts', 'index.ts']

const source = readImports('src')
const byFile = new Map(source.map((entry) => [entry.file, entry]))

describe('the layers', () => {
  test('depend downwards only', () => {
    const strays = source.flatMap((entry) => {
      const allowed = mayImport[layerOf(entry.file)]
      if (!allowed) return []
      return entry.files
        .filter((file) => !allowed.some((name) => file === `src/${name}` || file.startsWith(`src/${name}/`)))
        .map((file) => `${entry.file} > ${file}`)
    })
    expect(strays).toEqual([])
  })

  test('let nothing but db/ and queries.ts name the generated database client', () => {
    const strays = source
      .filter((entry) => entry.files.some((file) => file.startsWith('src/db/generated/')))
      .filter((entry) => !entry.file.startsWith('src/db/') && !entry.file.endsWith('/queries.ts'))
      .map((entry) => entry.file)
    expect(strays).toEqual([])
  })
})

describe('SQL', () => {
  // in db/ and keeping/ the names of tables and columns come from the database's own catalogue
  test('SEC-044 takes values by parameters: no feature calls what takes text as it is', () => {
    const unsafe = source
      .filter(({ file }) => !file.startsWith('src/db/') && !file.startsWith('src/keeping/'))
      .filter(({ file }) => /\$(query|execute)RawUnsafe|Prisma\.raw\(/.test(readSource(file)))
      .map(({ file }) => file)
    expect(unsafe).toEqual([])
  })
})

describe('the features', () => {
  const features = source.filter((entry) => entry.file.startsWith('src/features/'))

  test('are there', () => {
    expect(new Set(features.map((entry) => featureOf(entry.file))).size).toBeGreaterThan(5)
  })

  test('reach each other only through paths, access, queries or index', () => {
    const strays = features.flatMap((entry) =>
      crossings(entry)
        .filter((file) => !openFiles.includes(file.split('/').at(-1) ?? ''))
        .map((file) => `${entry.file} > ${file}`),
    )
    expect(strays).toEqual([])
  })

  test('never reach each other in a circle', () => {
    const circles = features.flatMap((entry) =>
      crossings(entry).flatMap((file) => {
        const back = chainTo(file, byFile, (reached) => reached === entry.file)
        return back ? [[entry.file, ...back].join(' > ')] : []
      }),
    )
    expect(circles).toEqual([])
  })
})

function crossings(entry: Imports): string[] {
  return entry.files.filter((file) => file.startsWith('src/features/') && featureOf(file) !== featureOf(entry.file))
}

function layerOf(file: string): string {
  return file.split('/')[1] ?? ''
}

function featureOf(file: string): string {
  return file.split('/')[2] ?? ''
}
