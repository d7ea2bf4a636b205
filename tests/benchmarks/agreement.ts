import { cpuUsage } from 'node:process'
import { parseArgs } from 'node:util'
import { agree } from '../../src/core/agreement/index.ts'
import { solveAllocation } from '../../src/core/allocation/index.ts'
import { askDivision } from '../../src/core/division/index.ts'
import { type KitchenPlace, settleRecipe } from '../../src/core/recipes/index.ts'
import { demonstrationQuestion } from '../support/demonstration-question.ts'

// How division and timetable of the demonstration come to agree, by seed and by seconds of dividing; one line a run:
// npm run bench:agreement -- [--seeds 5] [--seconds 1,2,3,5,10] [--passes 2000]

const { values } = parseArgs({
  options: {
    seeds: { type: 'string', default: '5' },
    first: { type: 'string', default: '1' },
    seconds: { type: 'string', default: '1,2,3,5,10' },
    passes: { type: 'string', default: '2000' },
  },
})
const place: KitchenPlace = { altitudeM: 640, gauges: ['dial', 'weighted'], local: [] }
const asked = demonstrationQuestion()
const question = { ...asked, recipes: asked.recipes.map((recipe) => settleRecipe(recipe, place).recipe) }
const seconds = values.seconds.split(',').map(Number)

const cpuSeconds = () => (cpuUsage().user + cpuUsage().system) / 1e6

for (let number = 0; number < Number(values.seeds); number++) {
  const seed = Number(values.first) + number
  const limit = seconds[number % seconds.length] ?? 1
  const began = cpuSeconds()
  const now = () => performance.now()
  const result = await solveAllocation(askDivision(question), { timeLimitMs: limit * 1000, now })
  const divided = cpuSeconds()
  const over: number[] = []
  const found = await agree(question, result, {
    place,
    seed,
    maxSchedules: Number(values.passes),
    allocation: { timeLimitMs: limit * 500, now },
    tell: ({ unitsOver }) => over.push(unitsOver),
  })
  const ended = cpuSeconds()
  const days = (found.days ?? []).map(({ ends, bound }, day) => {
    const opens = found.plan.kitchen.days[day]?.opens ?? 0
    if (ends === null || bound === null) return 'late'
    return `${ends - opens}/${bound - opens} ${(((ends - bound) / (bound - opens)) * 100).toFixed(1)}%`
  })
  process.stdout.write(
    `${[
      `seed ${seed}`,
      `${limit} s`,
      found.holds ? 'holds' : 'DOES NOT HOLD',
      `${found.rounds} rounds (${over.join(' ')})`,
      `tasks ${found.plan.activities.length}`,
      `worth ${Math.round(result.objective)} > ${Math.round(found.result.objective)}`,
      `cpu ${(divided - began).toFixed(1)} + ${(ended - divided).toFixed(1)} s`,
      days.join(', '),
      found.timetable.late.map(({ activity }) => activity).join(' '),
    ].join('; ')}\n`,
  )
}
