import { parentPort, workerData } from 'node:worker_threads'
import { agree } from '../core/agreement/index.ts'
import { notedPlan } from '../core/day/index.ts'
import type { TimetableReply, TimetableRequest } from './timetable.ts'

// One thread for one timetable: it answers and ends, so that nothing of it stays in memory.
if (!parentPort) throw new Error('this file runs only as a worker thread')
const port = parentPort
const reply = (message: TimetableReply) => port.postMessage(message)
const { question, result, place, divideMs, maxSchedules, stop } = workerData as TimetableRequest
const flag = new Int32Array(stop)
const shouldStop = () => Atomics.load(flag, 0) === 1

const agreed = await agree(question, result, {
  place,
  maxSchedules,
  allocation: { timeLimitMs: divideMs, shouldStop, now: () => performance.now() },
  stop: shouldStop,
  tell: ({ round, unitsOver }) => reply({ kind: 'progress', round, unitsOver }),
})
reply({
  kind: 'done',
  worked: {
    plan: notedPlan(agreed.plan),
    schedule: agreed.schedule,
    holds: agreed.holds,
    rounds: agreed.rounds,
    gave: agreed.gave.map(({ productId, before, after }) => ({ productId, before, after })),
  },
  division: agreed.rounds === 0 ? null : { question: agreed.question, result: agreed.result },
})
