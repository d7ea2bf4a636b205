import type { WorkerOptions } from 'node:worker_threads'

/**
 * Options for a worker thread whose file is TypeScript: `new Worker(url, typescriptWorkerOptions(data))`. They work in
 * the service (`node --import tsx`) and in the test runner alike, and for pools of threads that take `execArgv`.
 *
 * @param workerData what the thread finds as `workerData`; must be structured-cloneable
 */
export function typescriptWorkerOptions(workerData?: unknown): WorkerOptions & { execArgv: string[] } {
  // The parent's own options, such as --watch, are left out on purpose: some of them are refused in a thread.
  const execArgv = ['--import', new URL('./register-typescript.mjs', import.meta.url).href]
  return { workerData, execArgv }
}
