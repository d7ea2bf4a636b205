export { helpersSentence } from './pages.ts'
export { helpersPath } from './paths.ts'
export { listHelpers } from './queries.ts'
