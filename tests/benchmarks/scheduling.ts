import { readFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { checkSchedule, lowerBound, solveSchedule } from '../../src/core/scheduling/index.ts'
import { modelOf } from '../../src/core/scheduling/model.ts'
import { criticalPath } from '../../src/core/scheduling/sampling.ts'
import { madeInstances } from './scheduling-made.ts'
import { type Instance, readInstances } from './scheduling-sm.ts'

// How good and how fast timetables are on problems of the classical kind:
// `npm run bench:scheduling -- [DIRECTORY or .tar.gz of .sm files] [best-known.json] [--budgets 1000,5000] [--every 7]`.
//
// The table has for each instance at least `ub`, the best makespan known. Without a set, made ones of 30, 60 and 120
// activities. Every answer goes through the checker. Seconds are this process's own processor time, the bound's taken
// out. A run ends early when it meets its own lower bound; passes of schedule generation are counted as the literature
// does: a pass of justification is one, too.

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    budgets: { type: 'string', default: '1000,5000' },
    /** Only every so many instances. */
    every: { type: 'string', default: '1' },
    seed: { type: 'string', default: '1' },
    /** Made instances for each combination of parameters. */
    each: { type: 'string', default: '1' },
  },
})

type Known = Record<string, { ub: number }>

const [path, table] = positionals
const every = Number(values.every)
const known: Known = table ? JSON.parse(readFileSync(table, 'utf8')) : {}
const sets: [string, Instance[]][] = path
  ? [[path, readInstances(path)]]
  : [30, 60, 120].map((size) => [`made, ${size} activities`, madeInstances(size, Number(values.each))])

for (const [name, all] of sets) {
  const instances = all.filter((_, index) => index % every === 0)
  console.log(`\n${name}: ${instances.length} of ${all.length} instances`)
  console.log(
    'schedules   over critical path   over best known (found)   over own bound (proved)   passes a second   bound each',
  )
  for (const budget of values.budgets.split(',').map(Number)) console.log(measure(instances, budget))
}

function measure(instances: Instance[], maxSchedules: number): string {
  let overPath = 0
  let overBest = 0
  let found = 0
  let compared = 0
  let overBound = 0
  let proved = 0
  let passes = 0
  const began = process.cpuUsage()
  let aside = 0
  let bounding = 0
  for (const { name, problem } of instances) {
    const answer = solveSchedule(problem, { seed: Number(values.seed), maxSchedules })
    const beforeCheck = process.cpuUsage()
    const faults = checkSchedule(problem, answer)
    if (faults.length > 0) throw new Error(`${name}: ${JSON.stringify(faults[0])}`)
    const path = criticalPath(modelOf(problem))
    overPath += answer.makespan / path - 1
    overBound += answer.makespan / answer.lowerBound - 1
    proved += Number(answer.makespan === answer.lowerBound)
    passes += answer.schedulesTried
    const best = known[name]?.ub
    if (best !== undefined) {
      if (answer.makespan < best) throw new Error(`${name}: ${answer.makespan} is below the best known ${best}`)
      compared++
      overBest += answer.makespan / best - 1
      found += Number(answer.makespan === best)
    }
    const beforeBound = process.cpuUsage()
    lowerBound(problem)
    bounding += secondsSince(beforeBound)
    aside += secondsSince(beforeCheck)
  }
  const seconds = secondsSince(began) - aside - bounding
  const share = (sum: number, count: number) => (count === 0 ? '-' : `${((100 * sum) / count).toFixed(3)} %`)
  const count = instances.length
  return [
    String(maxSchedules).padStart(9),
    share(overPath, count).padStart(20),
    `${share(overBest, compared)} (${share(found, compared)})`.padStart(25),
    `${share(overBound, count)} (${share(proved, count)})`.padStart(25),
    Math.round(passes / seconds)
      .toLocaleString('en')
      .padStart(17),
    `${((1000 * bounding) / instances.length).toFixed(1)} ms`.padStart(11),
  ].join(' ')
}

function secondsSince(began: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(began)
  return (user + system) / 1e6
}
