export { localProcessesSentence } from './pages.ts'
export { localProcessesPath } from './paths.ts'
export { listLocalProcesses } from './queries.ts'
