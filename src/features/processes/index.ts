export { listLocalProcesses } from './local/queries.ts'
export { lookUpPath, processesPath } from './paths.ts'
export { readPlace } from './place.ts'
export * from './words.ts'
