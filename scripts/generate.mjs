// Writes the Prisma client into src/db/generated when the schema is newer than it.
// `prisma generate` looks for a schema engine binary it does not use, and would download one: any executable that
// exists stops the search, so it is pointed at Node itself. The real engine runs as WebAssembly (src/db/migrate.ts).
import { spawnSync } from 'node:child_process'
import { existsSync, statSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const schema = `${root}prisma/schema.prisma`
const client = `${root}src/db/generated/client.ts`

if (!existsSync(client) || statSync(client).mtimeMs < statSync(schema).mtimeMs) {
  const run = spawnSync(process.execPath, [`${root}node_modules/prisma/build/index.js`, 'generate', '--no-hints'], {
    cwd: root,
    encoding: 'utf8',
    env: { ...process.env, PRISMA_SCHEMA_ENGINE_BINARY: process.execPath, CHECKPOINT_DISABLE: '1' },
  })
  if (run.status !== 0) {
    process.stderr.write(`${run.stdout}${run.stderr}`)
    process.exit(run.status ?? 1)
  }
}
