export { coopForm } from './forms.ts'
export { coopFields } from './pages.ts'
export { ownUnitsPath } from './paths.ts'
