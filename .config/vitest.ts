import { defineConfig } from 'vitest/config'

// What is about one kind of database only: the embedded one's thread, folder and faults, and a server's own.
const onlyFor = {
  embedded: [
    'tests/db/embedded.test.ts',
    'tests/db/data-folder.test.ts',
    'tests/db/keeping-before-migrating.test.ts',
    'tests/db/mended-adapter.test.ts',
    'tests/reliability/disk-full.test.ts',
  ],
  postgres: [
    'tests/db/server.test.ts',
    'tests/db/shared-queue.test.ts',
    'tests/reliability/two-processes.test.ts',
    'tests/reliability/database-away.test.ts',
    'tests/db/keeping-server.test.ts',
    'tests/reliability/backup.test.ts',
  ],
}

// Four projects: what needs no database; what runs on a database, once for each of the two kinds; and the browser journeys.
// `npm test` runs the first two, so that it passes with nothing but Node and npm; `.ci/run` runs all four.
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    testTimeout: 30_000,
    hookTimeout: 60_000,
    restoreMocks: true,
    maxWorkers: 2,
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['tests/core/**/*.test.ts', 'tests/unit/**/*.test.ts', 'tests/architecture/**/*.test.ts'],
        },
      },
      databaseProject('embedded'),
      databaseProject('postgres'),
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          fileParallelism: false,
          testTimeout: 400_000,
        },
      },
    ],
  },
})

function databaseProject(kind: 'embedded' | 'postgres') {
  return {
    extends: true as const,
    test: {
      name: kind,
      include: ['tests/web/**/*.test.ts', 'tests/db/**/*.test.ts', 'tests/reliability/**/*.test.ts'],
      exclude: onlyFor[kind === 'embedded' ? 'postgres' : 'embedded'],
      env: { GLUTWORKS_TEST_DATABASE: kind },
      globalSetup: ['tests/support/global-setup.ts'],
    },
  }
}
