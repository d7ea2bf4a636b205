// What other features may use of recalls besides paths, access and queries.
export { recallLines } from './pages.ts'
