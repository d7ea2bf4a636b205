// What other features may use of lots besides paths, access and queries.
export { totalBeam } from './beams.ts'
export { type LotRow, type LotToday, lotRow, lotsSentence, lotsToday } from './list-page.ts'
export type { Lot } from './lot.ts'
