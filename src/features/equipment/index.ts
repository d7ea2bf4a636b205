export { holdsDocument, readHolds } from './holds.ts'
export { equipmentSentence } from './pages.ts'
export { equipmentListPath } from './paths.ts'
export { listEquipment } from './queries.ts'
