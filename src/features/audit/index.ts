export { auditPath } from './paths.ts'
