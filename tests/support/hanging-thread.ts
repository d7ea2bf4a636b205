import { parentPort, workerData } from 'node:worker_threads'

// For jobs that have a thread each: tells that it is at work, then hangs, or answers where it has no schedule to make.
const { maxSchedules } = workerData as { maxSchedules: number }
parentPort?.postMessage({ kind: 'progress', round: 0, unitsOver: maxSchedules })
parentPort?.postMessage({ kind: 'tried', tried: maxSchedules })
while (maxSchedules > 0);
parentPort?.postMessage({ kind: 'done', worked: 'worked out', division: null })
