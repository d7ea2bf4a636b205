export { outletsSentence } from './pages.ts'
export { outletsPath } from './paths.ts'
export { listOutlets } from './queries.ts'
