import { parentPort, workerData } from 'node:worker_threads'
import { workOutTimetable } from '../core/day/index.ts'
import type { TimetableReply, TimetableRequest } from './timetable.ts'

// One thread for one timetable: it answers and ends, so that nothing of it stays in memory.
if (!parentPort) throw new Error('this file runs only as a worker thread')
const { question, result, place, timeLimitMs, maxSchedules, stop } = workerData as TimetableRequest
const flag = new Int32Array(stop)

parentPort.postMessage({ kind: 'begun' } satisfies TimetableReply)
const worked = workOutTimetable(question, result, place, {
  timeLimitMs,
  maxSchedules,
  stop: () => Atomics.load(flag, 0) === 1,
})
parentPort.postMessage({ kind: 'done', worked } satisfies TimetableReply)
