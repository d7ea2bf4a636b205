// The desk check, and what .ci/run calls: npm run check [-- step ...]
// Steps run in order and the first failure ends it; without names all of them run.
import { spawnSync } from 'node:child_process'

const steps = {
  client: ['node', 'scripts/generate.mjs'],
  lint: ['npx', 'biome', 'ci', '.'],
  types: ['npx', 'tsc', '--noEmit'],
  // One PGlite and one @prisma/driver-adapter-utils at the top: the embedded adapter tests its errors with instanceof.
  packages: ['node', 'scripts/check-packages.mjs'],
  test: ['npm', 'test'],
  postgres: ['npm', 'run', 'test:postgres'],
  browser: ['npm', 'run', 'test:browser'],
}

const asked = process.argv.slice(2)
const unknown = asked.filter((name) => !(name in steps))
if (unknown.length > 0 || asked.includes('--help')) {
  console.error(`npm run check [-- step ...]\nsteps: ${Object.keys(steps).join(' ')}`)
  process.exit(2)
}

for (const [name, [command, ...args]] of Object.entries(steps)) {
  if (asked.length > 0 && !asked.includes(name)) continue
  const started = Date.now()
  console.log(`\n== ${name}: ${command} ${args.join(' ')}`)
  const run = spawnSync(command, args, { stdio: 'inherit' })
  if (run.status !== 0) {
    console.error(`== ${name} failed`)
    process.exit(run.status ?? 1)
  }
  console.log(`== ${name}: ${((Date.now() - started) / 1000).toFixed(1)} s`)
}
