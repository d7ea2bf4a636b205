import { parentPort, workerData } from 'node:worker_threads'
import { tryHelps } from '../core/agreement/index.ts'
import type { WorthReply, WorthTask } from './worth.ts'

// One thread for one timetable: it answers and ends, so that nothing of it stays in memory.
if (!parentPort) throw new Error('this file runs only as a worker thread')
const port = parentPort
const reply = (message: WorthReply) => port.postMessage(message)
const { question, before, candidates, known, place, divideMs, maxSchedules } = workerData as WorthTask

await tryHelps(question, before, candidates, {
  place,
  maxSchedules,
  known,
  allocation: { timeLimitMs: divideMs, now: () => performance.now() },
  tell: () => reply({ kind: 'divided' }),
  tried: (tried) => reply({ kind: 'tried', tried }),
})
reply({ kind: 'done' })
