export { readSpan, type Span, typedSpan } from './hours.ts'
export { workDaysSentence } from './pages.ts'
export { workDaysPath } from './paths.ts'
export { listWorkDays } from './queries.ts'
