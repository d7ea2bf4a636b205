// What other features may use of shares besides paths and access.
export { owedNow } from './standing/queries.ts'
