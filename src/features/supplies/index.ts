export { suppliesSentence, usedUp } from './pages.ts'
export { suppliesPath } from './paths.ts'
export { listSupplies, type Supply } from './queries.ts'
