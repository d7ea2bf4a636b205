// What other features may use of batches besides paths, access and queries.
export type { StoredProcess } from './process-document.ts'
export { processRows, unsealedWords } from './process-rows.ts'
