export { type DueStage, dueSlowStages } from './queries.ts'
export { dueWords } from './words.ts'
