import { parentPort, workerData } from 'node:worker_threads'
import { changedTimetable } from '../core/agreement/changed.ts'
import { agree } from '../core/agreement/index.ts'
import { notedPlan } from '../core/day/index.ts'
import type { AgreeTask, ChangeTask, TimetableAnswer, TimetableReply, TimetableRequest } from './timetable.ts'

// One thread for one timetable: it answers and ends, so that nothing of it stays in memory.
if (!parentPort) throw new Error('this file runs only as a worker thread')
const port = parentPort
const reply = (message: TimetableReply) => port.postMessage(message)
const request = workerData as TimetableRequest
const flag = new Int32Array(request.stop)
const shouldStop = () => Atomics.load(flag, 0) === 1

async function agreed({ question, result, place, divideMs, maxSchedules }: AgreeTask): Promise<TimetableAnswer> {
  const found = await agree(question, result, {
    place,
    maxSchedules,
    allocation: { timeLimitMs: divideMs, shouldStop, now: () => performance.now() },
    stop: shouldStop,
    tell: ({ round, unitsOver }) => reply({ kind: 'progress', round, unitsOver }),
  })
  return {
    worked: {
      plan: notedPlan(found.plan),
      schedule: found.schedule,
      ...(found.days === undefined ? {} : { days: found.days }),
      holds: found.holds,
      rounds: found.rounds,
      gave: found.gave.map(({ productId, before, after }) => ({ productId, before, after })),
    },
    division: found.rounds === 0 ? null : { question: found.question, result: found.result },
  }
}

function changed({ maxSchedules, root, ...change }: ChangeTask): TimetableAnswer {
  return { worked: { ...changedTimetable(change, { maxSchedules, stop: shouldStop }), ...root }, division: null }
}

reply({ kind: 'done', ...(request.kind === 'agree' ? await agreed(request) : changed(request)) })
