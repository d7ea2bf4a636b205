export { type BoundOptions, lowerBound } from './bounds.ts'
export { checkSchedule, type ScheduleRule, scheduleRules } from './check.ts'
export type * from './problem.ts'
export { type SolveOptions, solveSchedule } from './solve.ts'
