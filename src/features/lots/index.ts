// What other features may use of lots besides paths, access and queries.
export { type Intake, takeInMany } from './actions.ts'
export { totalBeam } from './beams.ts'
export { intakeReader } from './forms.ts'
export { type LotRow, type LotToday, lotRow, lotsSentence, lotsToday } from './list-page.ts'
export type { Lot } from './lot.ts'
export { classWords, lotName, lotTitle, sourceWords, storageWords } from './names.ts'
export { type LotUse, usedField, useLots } from './use.ts'
export { readPartWeight, readWeight } from './weight.ts'
