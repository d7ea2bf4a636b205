import { parseArgs } from 'node:util'
import {
  type AllocationProblem,
  type AllocationResult,
  checkAllocation,
  greedyBestGain,
  greedyFirstCome,
  solveAllocation,
} from '../../src/core/allocation/index.ts'
import { kitchenOf } from '../../src/core/allocation/kitchen.ts'
import { formulate } from '../../src/core/allocation/model/formulate.ts'
import { plainGlut, type Size, sizes } from './plain-glut.ts'
import { richGlut } from './rich-glut.ts'

// How fast and how good divisions are on made-up gluts: `npm run bench:allocation -- --only household --seeds 30`.
//
// Seconds are this process's own processor time, so that a busy machine spoils the figures less; on an idle one they
// are the seconds a cook waits, as the solver runs on one core. Every answer goes through the checker.
// Fair shares of whole jars among households are not part of this division (they are dealt afterwards), so these
// problems have none.

const { values } = parseArgs({
  options: {
    only: { type: 'string' },
    seeds: { type: 'string' },
    /** Seconds for each problem; default by size. */
    limit: { type: 'string' },
    /** The richer gluts instead of the plain ones. */
    rich: { type: 'boolean', default: false },
  },
})

type Plan = { size: Size; seeds: number; limitS: number; gap: number; target: string }
const plans: Record<string, Plan> = {
  household: { size: sizes.household, seeds: 30, limitS: 20, gap: 0, target: 'all proved, median 0.2 s, worst 1 s' },
  'household-scarce': { size: sizes.householdScarce, seeds: 8, limitS: 20, gap: 0, target: 'all proved' },
  coop: { size: sizes.coop, seeds: 3, limitS: 10, gap: 0, target: '0.5 % within 5 s' },
  'coop-scarce': { size: sizes.coopScarce, seeds: 3, limitS: 10, gap: 0, target: '1 % within 10 s' },
  stress: { size: sizes.stress, seeds: 2, limitS: 10, gap: 0, target: '0.5 % within 10 s' },
  'stress-scarce': { size: sizes.stressScarce, seeds: 2, limitS: 10, gap: 0, target: 'none set' },
}
const marks = [1, 5, 10]

const usedS = () => {
  const { user, system } = process.cpuUsage()
  return (user + system) / 1e6
}

// The first solve loads and compiles the solver; it is not measured.
const glut = values.rich ? richGlut : plainGlut
await solveAllocation(glut({ name: 'warm-up', lots: 2, products: 5, days: 2, ease: 1 }, 1))

for (const [name, plan] of Object.entries(plans)) {
  if (values.only && values.only !== name) continue
  const limitS = Number(values.limit ?? plan.limitS)
  const seeds = Number(values.seeds ?? plan.seeds)
  console.log(
    `\n${plan.size.name}, ${values.rich ? 'richer' : 'plain'} gluts: ${plan.size.lots} lots x 3 classes, ${plan.size.products} products, ${plan.size.days} days; target: ${plan.target}`,
  )
  console.log(
    'seed     kg   rows x cols (whole)  status    time s  gap % at 1/5/10 s and end   over first come, best gain   MB',
  )
  const times: number[] = []
  const gaps: number[] = []
  let proved = 0
  for (let seed = 1; seed <= seeds; seed++) {
    const row = await measure(glut(plan.size, seed), limitS, plan.gap)
    times.push(row.seconds)
    gaps.push(row.result.gap)
    proved += Number(row.result.status === 'proved')
    console.log(`${String(seed).padStart(4)} ${row.text}`)
  }
  times.sort((a, b) => a - b)
  gaps.sort((a, b) => a - b)
  const middle = (list: number[]) => list[Math.floor(list.length / 2)] ?? Number.NaN
  console.log(
    `${proved} of ${seeds} proved; time median ${middle(times).toFixed(2)} s, worst ${times.at(-1)?.toFixed(2)} s; ` +
      `gap median ${percent(middle(gaps))}, worst ${percent(gaps.at(-1) ?? Number.NaN)}`,
  )
}

async function measure(
  problem: AllocationProblem,
  limitS: number,
  gap: number,
): Promise<{ text: string; seconds: number; result: AllocationResult }> {
  const firstCome = greedyFirstCome(problem)
  const bestGain = greedyBestGain(problem)
  const { model } = formulate(kitchenOf(problem))
  const began = usedS()
  const gapsAt = marks.map(() => '-')
  const result = await solveAllocation(problem, {
    gap,
    timeLimitMs: limitS * 1000,
    now: () => usedS() * 1000,
    shouldStop: () => usedS() - began > limitS,
    onProgress: (progress) => {
      for (const [m, mark] of marks.entries()) {
        if (progress.elapsedMs <= mark * 1000) gapsAt[m] = percent(progress.gap)
      }
    },
  })
  const seconds = usedS() - began
  for (const [m, mark] of marks.entries()) if (seconds < mark) gapsAt[m] = percent(result.gap)
  for (const answer of [firstCome, bestGain, result]) {
    const violations = checkAllocation(problem, answer)
    if (violations.length > 0)
      throw new Error(`the checker refuses an answer: ${JSON.stringify(violations.slice(0, 3))}`)
  }
  const kg = problem.items.reduce((total, { grams }) => total + grams / 1000, 0)
  const whole = model.whole.reduce((total, flag) => total + flag, 0)
  const over = (plain: AllocationResult) => percent((result.objective - plain.objective) / Math.abs(result.objective))
  const text = [
    kg.toFixed(0).padStart(6),
    `${model.rows} x ${model.columns} (${whole})`.padStart(20),
    result.status.padStart(8),
    seconds.toFixed(2).padStart(8),
    ` ${gapsAt.join(' / ')} -> ${percent(result.gap)}`.padEnd(36),
    `${over(firstCome)}, ${over(bestGain)}`.padStart(20),
    (process.memoryUsage().rss / 1e6).toFixed(0).padStart(8),
  ].join(' ')
  return { text, seconds, result }
}

function percent(part: number): string {
  return Number.isFinite(part) ? (part * 100).toFixed(2) : '-'
}
