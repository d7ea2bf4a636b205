export { suppliesSentence } from './pages.ts'
export { suppliesPath } from './paths.ts'
export { listSupplies } from './queries.ts'
